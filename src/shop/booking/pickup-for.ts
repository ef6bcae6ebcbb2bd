import { type BufferedPickup, bufferedPickup, confidenceOf } from '../../promise/buffered-pickup.ts';
import { delayOf } from '../../promise/delay.ts';
import { chainTo } from '../../promise/job-chain.ts';
import type { OpenSpan } from '../../promise/open-time.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { PlannedJob, PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { DraftPlan } from '../planning/draft-plan.ts';
import { openingSpans } from '../promises/outlook-of.ts';

/** Pickups are told on the quarter hour; common practice. */
const ROUND_TO_MINUTES = 15;

export type Planned = Pick<DraftPlan, 'book' | 'formulation'> & {
  readonly plan: { readonly jobs: readonly PlannedJob[]; readonly operations: readonly PlannedOperation[] };
};

/** The earliest pickup that may be promised for a car of a drafted plan; null when the hours known end before. */
export function pickupFor(draft: Planned, jobId: JobId): BufferedPickup | null {
  const inputs = inputsOf(draft, jobId, draft.book.now);
  if (inputs === null) return null;
  const confidencePercent = draft.book.shop.promiseConfidencePercent;
  return bufferedPickup({ ...inputs, confidencePercent, roundToMinutes: ROUND_TO_MINUTES });
}

/** Probability, in percent, that a car of a drafted plan is ready by an instant. */
export function confidenceFor(draft: Planned, jobId: JobId, pickupAt: Instant): number {
  const inputs = inputsOf(draft, jobId, pickupAt);
  return inputs === null ? 0 : confidenceOf(pickupAt, inputs);
}

function inputsOf({ book, formulation, plan }: Planned, jobId: JobId, until: Instant) {
  const planned = plan.jobs.find((each) => each.jobId === jobId);
  const index = formulation.jobIndex(jobId);
  if (planned === undefined || index === undefined) return null;
  const operations = plan.operations.filter((each) => each.jobId === jobId);
  const workSpans = openingSpans(book.shop, book.now, Math.max(until, planned.readyAt) as Instant);
  const told = formulation.problem.jobs[index]!.pickupOpen;
  const pickupSpans: readonly OpenSpan[] =
    told === undefined
      ? workSpans
      : told.map(({ from, to }) => ({ from: formulation.axis.toInstant(from), to: formulation.axis.toInstant(to) }));
  const delay = delayOf(chainTo(planned.readyAt, operations, book.now), book.shop.finalInspectionFailurePercent);
  return { plannedReadyAt: planned.readyAt, delay, workSpans, pickupSpans };
}
