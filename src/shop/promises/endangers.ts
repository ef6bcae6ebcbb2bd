import type { Book } from '../../trade/formulate/book.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { AT_RISK_POINTS } from './at-risk.ts';
import { outlookOf } from './outlooks.ts';

/** A loss of less is the simulation's grain. */
const FELT_POINTS = 1;

/** Whether another plan of a book puts a promise at risk that is less so in the plan that stands. @throws Busy */
export async function endangers(
  deps: Pick<PlanningDeps, 'store' | 'outlooks' | 'seed'>,
  book: Book,
  plan: Plan,
): Promise<boolean> {
  const line = book.shop.promiseConfidencePercent - AT_RISK_POINTS;
  const after = await outlookOf(deps, { ...book, previousPlan: plan });
  const endangered = after.cars.filter(({ probabilityPercent }) => probabilityPercent < line);
  if (endangered.length === 0) return false;
  const before = new Map((await outlookOf(deps, book)).cars.map((car) => [car.jobId, car.probabilityPercent]));
  return endangered.some(
    ({ jobId, probabilityPercent }) => probabilityPercent < (before.get(jobId) ?? 0) - FELT_POINTS,
  );
}
