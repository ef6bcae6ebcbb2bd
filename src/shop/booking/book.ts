import type { PlanningDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';
import type { AlsoAnswer } from '../requests/answer-once.ts';
import { type Sale, sell } from './sell.ts';

/** Books a choice at once, without a hold before. Throws as `hold` does. */
export async function book(
  deps: PlanningDeps,
  input: Pick<Sale, 'shopId' | 'request' | 'dropOffAt' | 'pickupAt' | 'planVersion' | 'depositNote'>,
  alsoAnswer?: AlsoAnswer<JobView>,
): Promise<JobView> {
  return sell(deps, { ...input, state: 'booked', holdUntil: null }, alsoAnswer);
}
