import { firstEndingAfter } from './covering.ts';
import { isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';

/** Ensures that worked minutes drawn from a budget stay within its limit in every window. O(pieces log windows). */
export function checkBudgets({ problem, schedule, pieces }: PlanRead, report: Report): void {
  const drawn = problem.budgets.map(({ windows }) =>
    windows.map(() => ({ minutes: 0, decided: false, operations: [] as number[] })),
  );
  for (let o = 0; o < problem.operations.length; o++) {
    const operation = problem.operations[o]!;
    const planned = schedule.operations[o];
    const budget = planned == null ? undefined : operation.modes[planned.mode]!.budget;
    if (budget === undefined) continue;
    const { windows } = problem.budgets[budget]!;
    for (const piece of pieces[o]!) {
      for (let w = firstEndingAfter(windows, piece.from); w < windows.length && windows[w]!.from < piece.to; w++) {
        const account = drawn[budget]![w]!;
        account.minutes += Math.min(piece.to, windows[w]!.to) - Math.max(piece.from, windows[w]!.from);
        account.decided ||= !isFact(problem, o);
        account.operations.push(o);
      }
    }
  }
  for (const [budget, accounts] of drawn.entries()) {
    const { name, limit, windows } = problem.budgets[budget]!;
    for (const [w, account] of accounts.entries()) {
      if (account.minutes <= limit || !account.decided) continue;
      const operations = [...new Set(account.operations)];
      const text = `${operations.map((o) => operationName(problem, o)).join(', ')} draw ${account.minutes} minutes from "${name}" between ${windows[w]!.from} and ${windows[w]!.to}; the limit is ${limit}.`;
      report({ invariant: 3, rule: 'budget', text, operations, stays: [] });
    }
  }
}
