import type { MessagePort } from 'node:worker_threads';
import type { Problem } from '../../engine/problem/problem.ts';
import type { Solution } from '../../engine/problem/solution.ts';
import { solve } from '../../engine/solve.ts';
import type { Progress } from '../../engine/solve-options.ts';
import type { PlanOptions } from './planner.ts';
import { begins } from './thread-task.ts';

/** One problem, as it travels to a worker. */
export interface PlanTask {
  readonly problem: Problem;
  readonly options: PlanOptions;
  /** Set to 1 by whoever wants the search to stop; shared memory, since a busy worker reads no messages. */
  readonly stop: Int32Array;
  readonly port: MessagePort;
}

/** What the worker tells while it works. */
export type PlanNews = { readonly kind: 'started' } | { readonly kind: 'progress'; readonly progress: Progress };

function planTask(task: PlanTask): Solution {
  const { problem, options, stop, port } = task;
  const tell = (news: PlanNews) => port.postMessage(news);
  tell({ kind: 'started' });
  return solve(problem, {
    ...options,
    clock: () => performance.now(),
    cancelled: () => Atomics.load(stop, 0) === 1,
    onProgress: (progress) => tell({ kind: 'progress', progress }),
  });
}

/** What runs in the worker thread. */
export default begins(planTask);
