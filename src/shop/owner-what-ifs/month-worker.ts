import { begins } from '../planning/thread-task.ts';
import { createInProcessMonthPlanner } from './month-planner.ts';
import type { MonthTask } from './plan-month.ts';
import type { MonthFigures } from './what-if.ts';

/** What runs in the worker thread. */
export default begins(
  ({ task, seed }: { task: MonthTask; seed: number }): Promise<MonthFigures | null> =>
    createInProcessMonthPlanner(seed).plan(task),
);
