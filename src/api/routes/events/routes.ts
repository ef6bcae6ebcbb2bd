import { once } from 'node:events';
import { setTimeout as sleep } from 'node:timers/promises';
import { z } from 'zod';
import { followEvents } from '../../../shop/feeds/follow-events.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { eventStreams } from '../../wire/event-stream.ts';
import { wireInstantIn } from '../../wire/instant.ts';
import { newsInZone } from '../../wire/news-in-zone.ts';
import { problemReplies } from '../../wire/problem-replies.ts';

const stream = {
  description:
    'Server-sent events: `id` is a number that grows by one, `event` the kind of news, `data` JSON with `subject`, `at` ' +
    'and `body`. After a break, Last-Event-ID gets everything since.',
  content: { 'text/event-stream': { schema: z.string() } },
};

/** Live news of a shop: plans published, facts recorded, promises at risk, data changed. */
export function eventRoutes(app: Api, deps: ApiDeps): void {
  const follow = followEvents(deps.shop.store);
  const openStream = eventStreams(app);

  app.get(
    '/events',
    {
      // A HEAD would open a stream that nobody reads.
      exposeHeadRoute: false,
      config: { needs: 'see' },
      schema: {
        operationId: 'followEvents',
        summary: 'Live news of the shop, as server-sent events',
        tags: ['events'],
        params: OfShop,
        querystring: z.object({
          after: z.coerce
            .number()
            .int()
            .min(0)
            .optional()
            .describe('As Last-Event-ID, for clients that cannot set it.'),
        }),
        headers: z.object({
          'last-event-id': z
            .string()
            .regex(/^\d{1,15}$/, 'the number of the last event received')
            .optional(),
        }),
        response: { 200: stream, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const resumed = request.headers['last-event-id'];
      const after = resumed === undefined ? (request.query.after ?? null) : Number(resumed);
      const { raw, ended, end } = openStream(reply);
      raw.write('retry: 2000\n\n');
      const heartbeat = beat(deps.heartbeatMs ?? 15_000, ended.signal, () => raw.write(': still here\n\n'));
      try {
        const at = wireInstantIn(request.zone);
        for await (const event of follow(request.params.shopId, after, ended.signal)) {
          const data = {
            subject: event.subject,
            at: z.encode(at, event.at),
            body: newsInZone(event.body, request.zone),
          };
          const text = `id: ${event.sequence}\nevent: ${event.kind}\ndata: ${JSON.stringify(data)}\n\n`;
          // A reader that is slower than the news holds up its own stream and nothing else.
          if (!raw.write(text)) await once(raw, 'drain', { signal: ended.signal });
        }
      } catch (error) {
        if (!ended.signal.aborted) request.log.error({ err: error }, 'event stream broke off');
      } finally {
        ended.abort();
        await heartbeat;
        end();
      }
    },
  );
}

async function beat(everyMs: number, signal: AbortSignal, write: () => void): Promise<void> {
  try {
    for (;;) {
      await sleep(everyMs, undefined, { signal });
      write();
    }
  } catch {
    // The stream has ended, and with it the need to keep it open.
  }
}
