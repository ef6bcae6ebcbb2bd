import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';

/** Minutes by which the floor may differ from the plan before it is planned anew; a recording is often that late. */
export const TOLERATED_MINUTES = 10;

/**
 * What the plan expected to have begun or ended by now and nobody has told of: work that has not started, work that is
 * still under way past its end. The plan after these is no longer to be trusted.
 */
export function behindPlan(plan: Pick<Plan, 'operations'>, now: Instant): readonly Plan['operations'][number][] {
  const overdue = now - TOLERATED_MINUTES * 60_000;
  return plan.operations.filter(
    (operation) =>
      (operation.state === 'planned' && operation.people.length > 0 && operation.start < overdue) ||
      (operation.state === 'underWay' && operation.end < overdue),
  );
}
