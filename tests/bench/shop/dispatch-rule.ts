import { Book } from '../../../src/engine/construct/book.ts';
import { compileJobs } from '../../../src/engine/construct/compile-job.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { type InsertOptions, THOROUGH } from '../../../src/engine/construct/insert-options.ts';
import { makeRoom } from '../../../src/engine/construct/make-room.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { ShopModel } from '../../../src/engine/construct/shop-model.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Objective, Schedule } from '../../../src/engine/problem/solution.ts';
import type { Clock } from '../figures/clock.ts';
import { bottleneckWork } from './bottleneck-work.ts';

/** A rule by which a good lead orders the cars by hand; common practice. */
export type DispatchRule = 'earliest promise' | 'bottleneck work';

export interface Dispatched {
  readonly schedule: Schedule;
  readonly objective: Objective;
  /** Jobs that found no time in this order. */
  readonly unplanned: number;
  readonly ms: number;
}

const DAY_MINUTES = 24 * 60;
/** All that the constructor can do for one job, as the engine's own plans have it. */
const FULL_EFFORT: InsertOptions = { ...THOROUGH, laterDropOffs: true };

/**
 * Enters the jobs one by one in the order of a rule, each where the engine's own constructor finds it cheapest. `earliest
 * promise`: by pickup promised or wanted, those without last. `bottleneck work`: day by day of arrival, the most work on
 * the scarcest place or person first. Who finds no time is made room for, as in the engine's first plan.
 */
export function dispatch(problem: Problem, rule: DispatchRule, clock: Clock): Dispatched {
  const began = clock();
  const shop = new ShopModel(problem);
  const book = new Book(shop, compileJobs(shop, problem));
  const inserter = new JobInserter(book);
  let waiting = orderBy(rule, problem);
  for (;;) {
    const blocked = waiting.filter((j) => {
      const plan = inserter.insert(j, FULL_EFFORT);
      if (plan !== null) book.enter(j, plan);
      return plan === null;
    });
    const stuck = blocked.length === waiting.length;
    waiting = blocked;
    if (stuck || waiting.length === 0) break;
  }
  const blocked = waiting.map((job) => ({ job, operation: -1, obstacle: 'mode' as const, index: -1 }));
  const unplanned =
    blocked.length > 0 ? makeRoom(book, inserter, blocked, Number.POSITIVE_INFINITY, () => false).length : 0;
  const objective = new Float64Array(problem.tiers.length);
  book.objective(objective);
  return {
    schedule: scheduleOf(book),
    objective: [...objective],
    unplanned,
    ms: clock() - began,
  };
}

function orderBy(rule: DispatchRule, problem: Problem): number[] {
  const order = [...problem.jobs.keys()];
  if (rule === 'earliest promise') {
    const wanted = (j: number) => problem.jobs[j]!.promise?.at ?? problem.jobs[j]!.due?.at ?? problem.horizon;
    return order.sort((a, b) => wanted(a) - wanted(b) || a - b);
  }
  const work = bottleneckWork(problem);
  const day = (j: number) => Math.floor(problem.jobs[j]!.release / DAY_MINUTES);
  return order.sort((a, b) => day(a) - day(b) || work[b]! - work[a]! || a - b);
}
