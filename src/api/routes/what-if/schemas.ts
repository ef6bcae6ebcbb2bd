import { z } from 'zod';
import { WhatIf } from '../../../shop/what-if/what-if-request.ts';
import { JobId, OperationKey, PlaceId, TechnicianId } from '../../../trade/model/ids.ts';
import { Wish } from '../../../trade/model/job.ts';
import { Instant, LocalDate } from '../../../trade/model/time.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { listOf } from '../../wire/reply.ts';

const Position = z.object({ start: Instant, placeId: PlaceId.nullable(), people: listOf(TechnicianId) });

const movedWork = {
  jobId: JobId,
  car: z.string(),
  operation: OperationKey,
  label: z.string(),
  before: Position,
  after: Position,
};

const changes = {
  moves: listOf(z.object({ ...movedWork, laterMinutes: z.int() })),
  pickups: listOf(
    z.object({
      jobId: JobId,
      car: z.string(),
      promisedPickupAt: Instant.nullable(),
      readyAtBefore: Instant,
      readyAtAfter: Instant,
      lateMinutesBefore: z.int(),
      lateMinutesAfter: z.int(),
      broken: z.boolean(),
    }),
  ),
  objective: listOf(z.object({ tier: z.string(), before: z.int(), after: z.int() })),
};

const answer = {
  planVersion: z.int(),
  car: z.string(),
  label: z.string(),
  wish: Wish.omit({ madeAt: true, planBefore: true }),
  allowed: z.boolean(),
  reasons: listOf(z.object({ rule: z.string(), field: z.string(), text: z.string() })),
  nearest: z.object({ startAt: Instant, placeId: PlaceId.nullable() }).nullable(),
  ...changes,
};

export const WhatIfBody = onTheWire(WhatIf);
export const WhatIfReply = onTheWire(z.object(answer));
export const WishBody = onTheWire(
  z.object({
    whatIf: WhatIf,
    acceptBroken: z.boolean().default(false).describe('Promises that it breaks are accepted by a person.'),
  }),
);
export const WishReply = onTheWire(z.object({ ...answer, published: z.int() }));
export const WithdrawnReply = onTheWire(
  z.object({
    published: z.int(),
    ...changes,
    notRestored: listOf(z.object({ ...movedWork, why: z.enum(['begun', 'hourPassed', 'takenMeanwhile']) })),
  }),
);

export const RainQuery = z.object({
  day: LocalDate.optional().describe("YYYY-MM-DD in the shop's zone; tomorrow when left out."),
  airTempC: z.coerce.number().min(-40).max(60).optional().describe('Outside air, with the humidity.'),
  relativeHumidityPercent: z.coerce.number().min(0).max(100).optional(),
});
export const RainReply = onTheWire(
  z.object({
    day: LocalDate,
    cars: listOf(
      z.object({
        jobId: JobId,
        car: z.string(),
        verdict: z.enum(['mustStayDry', 'getsWet']),
        how: z.enum(['stands', 'isMoved', 'isFetched']),
        from: Instant,
        to: Instant,
        placeId: PlaceId.nullable(),
        waterSafeAt: Instant.nullable(),
        todo: z.string(),
      }),
    ),
    sheltered: z.int(),
    coatings: listOf(z.string()),
  }),
);
