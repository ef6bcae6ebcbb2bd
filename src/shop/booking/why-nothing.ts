import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlanningDeps } from '../deps.ts';
import { Busy } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { standingBook } from './standing-book.ts';

/** Why a car finds no place and what would fit, from the open book; empty when it cannot be told. */
export async function whyNothing(deps: PlanningDeps, shopId: ShopId, job: Job): Promise<readonly Objection[]> {
  if (deps.desk === undefined) return [];
  try {
    const standing = await standingBook(deps.store, shopId, deps.clock());
    const answer = await deps.desk.ask(standing, { kind: 'why', job });
    return answer.kind === 'why' ? answer.reasons : [];
  } catch (problem) {
    // The refusal stands without its reasons.
    if (problem instanceof Busy) return [];
    throw problem;
  }
}
