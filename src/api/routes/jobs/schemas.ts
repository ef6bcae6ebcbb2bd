import { z } from 'zod';
import { BookingChange, BookingRequest } from '../../../shop/booking/booking-request.ts';
import { PlaceId } from '../../../trade/model/ids.ts';
import { Job, JobState } from '../../../trade/model/job.ts';
import { PlannedJob, PlannedOperation, PlannedStay } from '../../../trade/model/plan.ts';
import { Instant, LocalDate } from '../../../trade/model/time.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { PageQuery } from '../../wire/page.ts';
import { listOf } from '../../wire/reply.ts';

/** A job and what the current plan says of it. */
export const JobViewReply = onTheWire(
  z.object({
    job: Job,
    planned: PlannedJob.nullable(),
    operations: listOf(PlannedOperation),
    stays: listOf(PlannedStay),
    planVersion: z.int(),
  }),
);

export const JobLine = z.object({ job: Job, planned: PlannedJob.nullable() });

const states = z
  .string()
  .transform((text) => text.split(','))
  .pipe(z.array(JobState))
  .optional()
  .describe(`Any of ${JobState.options.join(', ')}, with commas between; every state when left out.`);

export const JobsQuery = PageQuery.extend({
  state: states,
  day: LocalDate.optional().describe("Jobs whose visit touches this day in the shop's zone, YYYY-MM-DD."),
  search: z.string().min(1).max(80).optional().describe("Part of the customer's name, phone, e-mail or registration."),
});

const choice = {
  request: BookingRequest,
  dropOffAt: Instant,
  pickupAt: Instant.nullable().default(null),
  planVersion: z
    .int()
    .min(0)
    .nullable()
    .default(null)
    .describe('Of the quote: whom a newer plan refuses is told that the slot was taken.'),
  depositNote: z.string().max(200).default(''),
};
export const BookBody = onTheWire(z.object(choice));
export const HoldBody = onTheWire(z.object({ ...choice, holdMinutes: z.int().min(1).max(2880) }));
export const WalkInBody = onTheWire(
  z.object({
    request: BookingRequest,
    clientId: z.string().min(8).max(64),
    placeId: PlaceId.nullable().default(null),
  }),
);
export const ChangeBody = onTheWire(BookingChange);
export const NoteBody = z.object({ note: z.string().max(300).default('') });
