import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { JobId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demo } from '../../seed/demo-shop.ts';
import { aRequest } from '../a-request.ts';
import { at, MONDAY_8 } from '../a-shop.ts';

/** The demo shop without a car. */
export const emptyBook: Book = {
  ...demo,
  jobs: [],
  events: [],
  readings: [],
  previousPlan: null,
  now: MONDAY_8,
  horizonDays: 28,
};

/** A car that came at an hour and was wanted back so many hours later. */
export function aCarThatCame(id: string, recipeId: string, came: string, hours: number): Job {
  const dropOffAt = at(came);
  const wantedPickupAt = (dropOffAt + hours * 3_600_000) as Instant;
  const job = draftJob(aRequest(recipeId), JobId.parse(id), emptyBook);
  return { ...job, state: 'booked', earliestDropOff: dropOffAt, dropOffAt, wantedPickupAt };
}
