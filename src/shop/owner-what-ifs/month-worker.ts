import { createInProcessMonthPlanner } from './month-planner.ts';
import type { MonthTask } from './plan-month.ts';
import type { MonthFigures } from './what-if.ts';

/** What runs in the worker thread. */
export default function monthTask({ task, seed }: { task: MonthTask; seed: number }): Promise<MonthFigures | null> {
  return createInProcessMonthPlanner(seed).plan(task);
}
