import { z } from 'zod';
import { JobId } from '../../../trade/model/ids.ts';
import { Instant } from '../../../trade/model/time.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { listOf } from '../../wire/reply.ts';

/** What a change would do to the book, before it is made. */
export const EffectsReply = onTheWire(
  z.object({
    planVersion: z.int(),
    plannable: z.boolean(),
    proved: z.boolean(),
    why: z.string(),
    promises: listOf(
      z.object({
        jobId: JobId,
        car: z.string(),
        promisedPickupAt: Instant,
        lateMinutesBefore: z.int(),
        lateMinutesAfter: z.int(),
      }),
    ),
    moved: listOf(z.object({ jobId: JobId, car: z.string(), readyAtBefore: Instant, readyAtAfter: Instant })),
    leftOut: listOf(z.object({ jobId: JobId, car: z.string(), reason: z.string() })),
    outsideHours: listOf(z.object({ jobId: JobId, car: z.string(), what: z.enum(['dropOff', 'pickup']), at: Instant })),
    released: listOf(z.string()),
  }),
);
