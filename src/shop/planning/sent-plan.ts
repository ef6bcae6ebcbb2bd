import type { Plan } from '../../trade/model/plan.ts';
import type { PlanChange } from '../../trade/model/plan-change.ts';
import { afterChange, NO_WORK, type PlanWork, wayBetween } from '../../trade/model/plan-way.ts';

/** A plan on its way from one thread to another: what it changes of the plan that stood, which both have. */
export interface SentPlan {
  readonly about: Omit<Plan, keyof PlanWork>;
  readonly change: PlanChange;
}

export function planToSend(plan: Plan, standing: Plan | null): SentPlan {
  const { operations, stays, jobs, ...about } = plan;
  return { about, change: wayBetween(standing ?? NO_WORK, { operations, stays, jobs }).there };
}

/** The plan again, in the order plans are kept in. What stays as it was is the very same object as in the plan that stood. */
export function planSent({ about, change }: SentPlan, standing: Plan | null): Plan {
  return { ...about, ...afterChange(standing ?? NO_WORK, change) };
}
