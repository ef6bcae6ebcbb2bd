import type { Interval } from '../problem/problem.ts';
import { firstUncovered } from './covering.ts';
import { isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';

/**
 * Ensures that coating, and whatever else a mode limits, lies where expected air and panel conditions (or an unexpired
 * certificate) allow it. O(operations log intervals).
 */
export function checkConditions({ problem, schedule }: PlanRead, report: Report): void {
  for (let o = 0; o < problem.operations.length; o++) {
    const operation = problem.operations[o]!;
    const planned = schedule.operations[o];
    const allowed = planned == null ? undefined : operation.modes[planned.mode]!.allowed;
    if (planned == null || allowed === undefined || isFact(problem, o)) continue;
    const { start, end } = planned;
    const fits = end > start ? firstUncovered(allowed, start, end) === undefined : encloses(allowed, start, end);
    if (fits) continue;
    const text = `${operationName(problem, o)} lies from minute ${start} to ${end}, which its conditions do not allow.`;
    report({ invariant: 7, rule: 'conditions', text, operations: [o], stays: [] });
  }
}

/** Whether one interval has from <= start and end <= to. */
function encloses(intervals: readonly Interval[], start: number, end: number): boolean {
  for (const { from, to } of intervals) if (from <= start && end <= to) return true;
  return false;
}
