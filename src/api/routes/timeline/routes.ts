import { z } from 'zod';
import { timeline } from '../../../shop/floor/timeline.ts';
import { madeOnce } from '../../../shop/records/made-once.ts';
import { JobId, PlaceId, TechnicianId } from '../../../trade/model/ids.ts';
import { PlannedOperation } from '../../../trade/model/plan.ts';
import { Instant, LocalDate } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { DayQuery, todayIn } from '../../wire/local-day.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';

const PlaceRow = z.object({
  placeId: PlaceId,
  name: z.string(),
  kind: z.enum(['bay', 'parking']),
  stays: listOf(
    z.object({ jobId: JobId, car: z.string(), from: Instant, to: Instant, operations: listOf(PlannedOperation) }),
  ),
});

const PersonRow = z.object({
  technicianId: TechnicianId,
  name: z.string(),
  hours: listOf(z.object({ from: Instant, to: Instant })),
  operations: listOf(PlannedOperation),
});

export const TimelineReply = onTheWire(
  z.object({
    date: LocalDate,
    from: Instant,
    to: Instant,
    asOf: Instant,
    planVersion: z.int(),
    places: listOf(PlaceRow),
    people: listOf(PersonRow),
  }),
);

/** The day on the wall. */
export function timelineRoutes(app: Api, deps: ApiDeps): void {
  app.get(
    '/timeline',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getTimeline',
        summary: 'A day by place and by person',
        tags: ['timeline'],
        params: OfShop,
        querystring: DayQuery.extend({
          by: z.enum(['place', 'person', 'both']).default('both').describe('Which rows to answer with.'),
        }),
        response: { 200: TimelineReply, ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { day = todayIn(request.zone, deps.shop.clock()), by } = request.query;
      const whole = await timeline(deps.shop, { shopId: request.params.shopId, date: day });
      if (by === 'both') return whole;
      return madeOnce(whole, by, [], () => ({ ...whole, ...(by === 'person' ? { places: [] } : { people: [] }) }));
    },
  );
}
