import { z } from 'zod';
import { type BayMinutes, type PersonMinutes, weekUtilisation } from '../../../shop/utilisation/week.ts';
import { PlaceId, TechnicianId } from '../../../trade/model/ids.ts';
import { Instant, LocalDate } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { asCsv, csvReply } from '../../wire/csv.ts';
import { mondayIn } from '../../wire/local-day.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';

const minutes = z.int();

export const WeekReply = onTheWire(
  z.object({
    monday: LocalDate,
    from: Instant,
    to: Instant,
    bays: listOf(
      z.object({
        placeId: PlaceId,
        name: z.string(),
        open: minutes,
        worked: minutes,
        curing: minutes,
        waiting: minutes,
        blocked: minutes,
        empty: minutes,
      }),
    ),
    people: listOf(
      z.object({
        technicianId: TechnicianId,
        name: z.string(),
        open: minutes,
        worked: minutes,
        watched: minutes,
        free: minutes,
        overtime: minutes,
      }),
    ),
    promises: z.object({ due: z.int(), kept: z.int(), broken: z.int(), open: z.int() }),
  }),
);

const WeekQuery = z.object({
  monday: LocalDate.optional().describe("The week's Monday, YYYY-MM-DD; this week's when left out."),
});

const bayColumns = ['placeId', 'name', 'open', 'worked', 'curing', 'waiting', 'blocked', 'empty'] as const;
const personColumns = ['technicianId', 'name', 'open', 'worked', 'watched', 'free', 'overtime'] as const;

/** Where the week's hours went. */
export function utilisationRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['utilisation'];
  const week = (zone: string, monday: LocalDate | undefined) => monday ?? mondayIn(zone, deps.shop.clock());

  app.get(
    '/utilisation',
    {
      config: { needs: 'figures' },
      schema: {
        operationId: 'getUtilisation',
        summary: "Where a week's bay hours and people's hours go, in minutes",
        tags,
        params: OfShop,
        querystring: WeekQuery,
        response: { 200: WeekReply, ...problemReplies('not-found') },
      },
    },
    async (request) =>
      weekUtilisation(deps.shop, { ...request.params, monday: week(request.zone, request.query.monday) }),
  );

  app.get(
    '/utilisation/bays.csv',
    {
      config: { needs: 'figures' },
      schema: {
        operationId: 'getBayUtilisationCsv',
        summary: "A week's bay minutes as CSV",
        tags,
        params: OfShop,
        querystring: WeekQuery,
        response: { 200: csvReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const monday = week(request.zone, request.query.monday);
      const { bays } = await weekUtilisation(deps.shop, { ...request.params, monday });
      return asFile(reply, `bays-${monday}`).send(asCsv<BayMinutes>(bayColumns, bays));
    },
  );

  app.get(
    '/utilisation/people.csv',
    {
      config: { needs: 'figures' },
      schema: {
        operationId: 'getPeopleUtilisationCsv',
        summary: "A week's people minutes as CSV",
        tags,
        params: OfShop,
        querystring: WeekQuery,
        response: { 200: csvReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const monday = week(request.zone, request.query.monday);
      const { people } = await weekUtilisation(deps.shop, { ...request.params, monday });
      return asFile(reply, `people-${monday}`).send(asCsv<PersonMinutes>(personColumns, people));
    },
  );
}

type Replying = { type(contentType: string): Replying; header(name: string, value: string): Replying };

function asFile<R extends Replying>(reply: R, name: string): R {
  reply.type('text/csv; charset=utf-8').header('content-disposition', `attachment; filename="${name}.csv"`);
  return reply;
}
