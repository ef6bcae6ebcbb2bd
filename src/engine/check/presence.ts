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
  const isPresent = (operation: number) => schedule.operations[operation] != null;
  const demanded = new Set<number>();
  for (const stay of problem.stays) if (stay.move !== undefined) demanded.add(stay.move);
  for (const lag of problem.lags) {
    if (lag.remedy === undefined) continue;
    const minutes = elapsed(plan, lag);
    if (minutes !== undefined && minutes > lag.max!) for (const remedy of lag.remedy) demanded.add(remedy);
  }
  for (const branch of problem.branches) {
    const named = [...new Set(branch.alternatives.flat())];
    for (const operation of named) demanded.add(operation);
    const decided = named.filter((operation) => isPresent(operation) && !isFact(problem, operation));
    const oneBundle = branch.alternatives.some(
      (bundle) => bundle.every(isPresent) && decided.every((operation) => bundle.includes(operation)),
    );
    if (oneBundle) continue;
    const present = named.filter(isPresent);
    const names = present.map((operation) => operationName(problem, operation)).join(', ');
    const text = `Of "${branch.name}" ${names === '' ? 'nothing is' : `${names} are`} planned, which is not exactly one alternative.`;
    report({ invariant: 1, rule: 'branch', text, operations: present, stays: [] });
  }
  for (const [o, operation] of problem.operations.entries()) {
    if (isPresent(o)) {
      if (operation.presence === 'optional' && !isFact(problem, o) && !demanded.has(o)) {
        const text = `${operationName(problem, o)} is planned though nothing demands it.`;
        report({ invariant: 1, rule: 'undemanded', text, operations: [o], stays: [] });
      }
    } else if (operation.presence === 'always') {
      const text = `${operationName(problem, o)} is missing from the plan.`;
      report({ invariant: 1, rule: 'missing', text, operations: [o], stays: [] });
    }
  }
}
