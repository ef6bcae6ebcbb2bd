import { check } from '../../../src/engine/check/check.ts';
import type { Lag, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import type { PlannedOperation, PlannedStay, Schedule } from '../../../src/engine/problem/solution.ts';

/** A schedule with some operations and stays otherwise; null takes one out. */
export function changed(
  schedule: Schedule,
  operations: Readonly<Record<number, Partial<PlannedOperation> | null>>,
  stays: Readonly<Record<number, Partial<PlannedStay> | null>> = {},
): Schedule {
  return {
    operations: schedule.operations.map((planned, o) => merged(planned, operations[o])),
    stays: schedule.stays.map((planned, s) => merged(planned, stays[s])),
  };
}

function merged<T>(planned: T | null, change: Partial<T> | null | undefined): T | null {
  if (change === undefined) return planned;
  return change === null ? null : ({ ...planned, ...change } as T);
}

export function withOperation(problem: Problem, o: number, given: Partial<Operation>): Problem {
  return {
    ...problem,
    operations: problem.operations.map((operation, k) => (k === o ? { ...operation, ...given } : operation)),
  };
}

export function withLag(problem: Problem, lag: Lag): Problem {
  return { ...problem, lags: [...problem.lags, lag] };
}

/** The broken rules, as "invariant rule", in order and each once. */
export function brokenRules(problem: Problem, schedule: Schedule): string[] {
  return [...new Set(check(problem, schedule).map(({ invariant, rule }) => `${invariant} ${rule}`))].sort();
}
