import { z } from 'zod';
import { createInProcessMonthPlanner } from '../../../shop/owner-what-ifs/month-planner.ts';
import { rememberedWhatIfs } from '../../../shop/owner-what-ifs/remembered-what-ifs.ts';
import { type WhatIfs, whatIfChanges } from '../../../shop/owner-what-ifs/what-if.ts';
import { LocalDate } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { eventStreams } from '../../wire/event-stream.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';
import { figuresRoute } from '../utilisation/figures-route.ts';

const WhatIfQuery = z.object({
  months: z.coerce.number().int().min(1).max(30).default(8).describe('Months that are drawn.'),
  seed: z.coerce.number().int().min(0).max(1_000_000).default(1).describe('The same seed draws the same months.'),
  demandPercent: z.coerce
    .number()
    .int()
    .min(25)
    .max(300)
    .default(100)
    .describe('Cars a week against the recent weeks, in percent.'),
});

const Range = z.object({ median: z.number(), least: z.number(), most: z.number() });
const ShareRange = z.object({ id: z.string(), name: z.string(), percent: Range });

export const WhatIfsReply = onTheWire(
  z.object({
    from: LocalDate,
    weeks: z.int(),
    drawnFrom: z.object({ jobs: z.int(), weeks: z.int() }),
    terms: z.object({ months: z.int(), seed: z.int(), demandPercent: z.int() }),
    months: z.int().describe('Months that could be planned as things are.'),
    cars: Range,
    lateCars: Range,
    lateMinutes: Range,
    waitMinutes: Range,
    bays: listOf(ShareRange),
    people: listOf(ShareRange),
    changes: listOf(
      z.object({
        change: z.enum(whatIfChanges),
        like: z.string(),
        months: z.int(),
        lateCars: Range,
        lateCarsChange: Range.describe('With it less without it, month by month: negative is better.'),
        lateMinutesChange: Range,
        waitMinutesChange: Range,
      }),
    ),
  }),
);

const stream = {
  description:
    'Server-sent events: `progress` with `planned` of `of` months, then `answer` with the reply of the plain address, or ' +
    '`failed` with `detail`.',
  content: { 'text/event-stream': { schema: z.string() } },
};

const measures = ['lateCars', 'lateCarsChange', 'lateMinutesChange', 'waitMinutesChange'] as const;
const ends = ['Median', 'Least', 'Most'] as const;

/** What one more bay, person, lamp or long Saturday would do, in months like the recent ones. */
export function ownerWhatIfRoutes(app: Api, deps: ApiDeps): void {
  const ask = rememberedWhatIfs({
    store: deps.shop.store,
    clock: deps.shop.clock,
    months: deps.months ?? createInProcessMonthPlanner(deps.shop.seed),
  });
  const openStream = eventStreams(app);

  figuresRoute(app, {
    path: '/utilisation/what-ifs',
    operationId: 'getWhatIfs',
    summary: 'What one more bay, person, lamp or long Saturday would do: drawn months, planned without and with it',
    querystring: WhatIfQuery,
    reply: WhatIfsReply,
    read: ({ shopId, query, signal }) => ask({ shopId, ...query }, undefined, signal),
    tables: [
      {
        path: '/utilisation/what-ifs.csv',
        operationId: 'getWhatIfsCsv',
        summary: 'The same as CSV, a line for each change',
        file: ({ from }: WhatIfs) => `what-ifs-${from}`,
        columns: ['change', 'like', 'months', ...measures.flatMap((of) => ends.map((end) => `${of}${end}`))],
        rows: ({ changes }) => changes.map(asRow),
      },
    ],
  });

  app.get(
    '/utilisation/what-ifs/events',
    {
      // A HEAD would open a stream that nobody reads.
      exposeHeadRoute: false,
      config: { needs: 'figures' },
      schema: {
        operationId: 'followWhatIfs',
        summary: 'The same, telling how far it is while the months are planned',
        tags: ['utilisation'],
        params: OfShop,
        querystring: WhatIfQuery,
        response: { 200: stream, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const { raw, ended: left, end } = openStream(reply);
      const tell = (event: string, data: object) => raw.write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
      try {
        const input = { ...request.params, ...request.query };
        tell('answer', await ask(input, (progress) => tell('progress', progress), left.signal));
      } catch (error) {
        if (!left.signal.aborted) tell('failed', { detail: error instanceof Error ? error.message : String(error) });
      } finally {
        end();
      }
    },
  );
}

function asRow(outcome: WhatIfs['changes'][number]): Record<string, string | number> {
  const { change, like, months } = outcome;
  const figures = measures.flatMap((of) => {
    const { median, least, most } = outcome[of];
    return [
      [`${of}Median`, median],
      [`${of}Least`, least],
      [`${of}Most`, most],
    ];
  });
  return { change, like, months, ...Object.fromEntries(figures) };
}
