import type { Schedule } from '../problem/solution.ts';
import type { Model } from './model.ts';

/**
 * The value of every half in a schedule, for a search to follow; undefined when the schedule does not cover the model.
 * Objectives, which no literal is guided by, keep their present least value.
 */
export function guideOf(model: Model, schedule: Schedule): Int32Array | undefined {
  const { bounds } = model.solver;
  const guide = bounds.lower.slice(0, bounds.halves);
  const set = (half: number, value: number) => {
    guide[half] = value;
    guide[half ^ 1] = -value;
  };
  for (const [o, { start, end, endOffset, modes }] of model.operations.entries()) {
    const planned = schedule.operations[o];
    if (planned == null || modes[planned.mode] === undefined) return undefined;
    set(start, planned.start);
    if (end !== start) set(end, planned.end - endOffset);
    for (const [m, { presence }] of modes.entries()) if (presence >= 0) set(presence, m === planned.mode ? 1 : 0);
  }
  for (const { a, b, first } of model.orders) {
    set(first, schedule.operations[a]!.start < schedule.operations[b]!.start ? 1 : 0);
  }
  return guide;
}
