import { BudgetWindows } from '../calendar/budget-windows.ts';
import { BudgetDraw, type Drawer } from '../constraints/budget-draw.ts';
import type { Solver } from '../learn/solver.ts';
import type { Problem } from '../problem/problem.ts';
import { calendarOf, isFact, piecesOfFact } from './facts.ts';
import { type ModelledOperation, mayBe } from './modelled-operation.ts';

/** Ensures that worked minutes drawn from each budget stay within its limit in every window, with what facts have drawn. */
export function addBudgets(problem: Problem, operations: readonly ModelledOperation[], solver: Solver): void {
  for (const [b, budget] of problem.budgets.entries()) {
    const drawers: Drawer[] = [];
    const drawn = budget.windows.map(() => 0);
    for (const [o, operation] of problem.operations.entries()) {
      for (const [m, mode] of operation.modes.entries()) {
        if (mode.budget !== b || mode.work === 0) continue;
        if (isFact(problem, o)) {
          if (operation.fixed!.mode === m) addDrawn(problem, o, b, drawn);
          continue;
        }
        const { start, modes } = operations[o]!;
        const { presence, span } = modes[m]!;
        if (!mayBe(solver.bounds, modes[m]!)) continue;
        drawers.push({ start, presence, span, calendar: calendarOf(problem, mode).calendar });
      }
    }
    if (drawers.length > 0) new BudgetDraw(solver, drawers, new BudgetWindows(budget, 0), drawn);
  }
}

function addDrawn(problem: Problem, operation: number, budget: number, drawn: number[]): void {
  const { windows } = problem.budgets[budget]!;
  for (const piece of piecesOfFact(problem, operation)) {
    for (const [w, { from, to }] of windows.entries()) {
      drawn[w]! += Math.max(0, Math.min(piece.to, to) - Math.max(piece.from, from));
    }
  }
}
