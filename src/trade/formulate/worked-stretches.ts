import type { Interval, Mode, Problem } from '../../engine/problem/problem.ts';
import { openStretches } from './progress-reading.ts';

/** Stretches of [start, end) in which an operation is worked on: open hours, less what a day's budget leaves no room for. */
export function workedStretches(problem: Problem, mode: Mode, start: number, end: number): Interval[] {
  if (mode.work === 0 || start >= end) return start === end ? [] : [{ from: start, to: end }];
  const open =
    mode.progress === undefined
      ? [{ from: start, to: end }]
      : openStretches(problem.progresses[mode.progress]!, start, end);
  return mode.budget === undefined ? open : withinBudget(problem, mode.budget, open);
}

function withinBudget(problem: Problem, budget: number, open: readonly Interval[]): Interval[] {
  const { windows, limit } = problem.budgets[budget]!;
  const worked: Interval[] = [];
  const drawn = new Array<number>(windows.length).fill(0);
  for (const { from, to } of open) {
    let at = from;
    for (const [w, window] of windows.entries()) {
      if (window.to <= at || window.from >= to) continue;
      if (window.from > at) add(worked, at, window.from);
      const since = Math.max(at, window.from);
      const until = Math.min(to, window.to);
      const workable = Math.min(until - since, limit - drawn[w]!);
      drawn[w]! += workable;
      add(worked, since, since + workable);
      at = until;
    }
    if (at < to) add(worked, at, to);
  }
  return worked;
}

/** Adds a stretch, to the last one where that ends when it begins. */
function add(worked: Interval[], from: number, to: number): void {
  const last = worked.at(-1);
  if (last?.to === from) worked[worked.length - 1] = { from: last.from, to };
  else if (from < to) worked.push({ from, to });
}
