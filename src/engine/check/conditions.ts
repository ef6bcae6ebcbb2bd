import { firstUncovered } from './covering.ts';
import { isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';

/**
 * Ensures that coating, and whatever else a mode limits, lies where expected air and panel conditions (or an unexpired
 * certificate) allow it. O(operations log intervals).
 */
export function checkConditions({ problem, schedule }: PlanRead, report: Report): void {
  for (const [o, operation] of problem.operations.entries()) {
    const planned = schedule.operations[o];
    const allowed = planned == null ? undefined : operation.modes[planned.mode]!.allowed;
    if (planned == null || allowed === undefined || isFact(problem, o)) continue;
    const { start, end } = planned;
    const fits =
      end > start
        ? firstUncovered(allowed, start, end) === undefined
        : allowed.some((interval) => interval.from <= start && end <= interval.to);
    if (fits) continue;
    const text = `${operationName(problem, o)} lies from minute ${start} to ${end}, which its conditions do not allow.`;
    report({ invariant: 7, rule: 'conditions', text, operations: [o], stays: [] });
  }
}
