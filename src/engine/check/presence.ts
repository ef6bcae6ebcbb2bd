import type { Branch, Problem } from '../problem/problem.ts';
import type { Schedule } from '../problem/solution.ts';
import { isFact, type PlanRead } from './plan-read.ts';
import { elapsed } from './time-lags.ts';
import { operationName, type Report } from './violation.ts';

/**
 * Ensures that a plan holds the work demanded of it and nothing else: operations that are always present, one bundle
 * of every branch, and of the optional rest only moves (judged with the stays), remedies of lapsed maxima and facts.
 * O(operations + lags + bundles).
 */
export function checkPresence(plan: PlanRead, report: Report): void {
  const { problem, schedule } = plan;
  const demanded = new Uint8Array(problem.operations.length);
  for (const { move } of problem.stays) if (move !== undefined) demanded[move] = 1;
  for (const lag of problem.lags) {
    if (lag.remedy === undefined) continue;
    const minutes = elapsed(plan, lag);
    if (minutes !== undefined && minutes > lag.max!) for (const remedy of lag.remedy) demanded[remedy] = 1;
  }
  for (const branch of problem.branches) {
    for (const bundle of branch.alternatives) for (const operation of bundle) demanded[operation] = 1;
    if (!isOneBundle(plan, branch)) reportBranch(plan, branch, report);
  }
  for (let o = 0; o < problem.operations.length; o++) {
    const operation = problem.operations[o]!;
    if (isPresent(schedule, o)) {
      if (operation.presence === 'optional' && !isFact(problem, o) && demanded[o] === 0) {
        const text = `${operationName(problem, o)} is planned though nothing demands it.`;
        report({ invariant: 1, rule: 'undemanded', text, operations: [o], stays: [] });
      }
    } else if (operation.presence === 'always') {
      const text = `${operationName(problem, o)} is missing from the plan.`;
      report({ invariant: 1, rule: 'missing', text, operations: [o], stays: [] });
    }
  }
}

function isPresent(schedule: Schedule, operation: number): boolean {
  return schedule.operations[operation] != null;
}

/** Whether all of one bundle is there, and of the others nothing that is still to be decided. */
function isOneBundle({ problem, schedule }: PlanRead, { alternatives }: Branch): boolean {
  for (const bundle of alternatives) {
    if (isWhole(schedule, bundle) && !isMoreThan(problem, schedule, alternatives, bundle)) return true;
  }
  return false;
}

function isWhole(schedule: Schedule, bundle: readonly number[]): boolean {
  for (const operation of bundle) if (!isPresent(schedule, operation)) return false;
  return true;
}

function isMoreThan(
  problem: Problem,
  schedule: Schedule,
  alternatives: Branch['alternatives'],
  bundle: readonly number[],
): boolean {
  for (const other of alternatives) {
    for (const operation of other) {
      if (isPresent(schedule, operation) && !isFact(problem, operation) && !bundle.includes(operation)) return true;
    }
  }
  return false;
}

function reportBranch({ problem, schedule }: PlanRead, branch: Branch, report: Report): void {
  const named = [...new Set(branch.alternatives.flat())];
  const present = named.filter((operation) => isPresent(schedule, operation));
  const names = present.map((operation) => operationName(problem, operation)).join(', ');
  const text = `Of "${branch.name}" ${names === '' ? 'nothing is' : `${names} are`} planned, which is not exactly one alternative.`;
  report({ invariant: 1, rule: 'branch', text, operations: present, stays: [] });
}
