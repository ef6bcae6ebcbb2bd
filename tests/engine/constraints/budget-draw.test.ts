import { describe, expect, it } from 'vitest';
import { BudgetWindows } from '../../../src/engine/calendar/budget-windows.ts';
import { BudgetDraw } from '../../../src/engine/constraints/budget-draw.ts';
import { ALWAYS } from '../../../src/engine/constraints/task.ts';
import { WorkContent } from '../../../src/engine/constraints/work-content.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { calendarOf } from '../../../src/engine/prove/facts.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { type Domain, expectAgreement } from './every-solution.ts';
import { isWorkedAt, type PausingWork, pausingProblem, pausingWork, piecesFrom, spanOf } from './pausing-work.ts';

const HORIZON = 9;

function drawer(one: PausingWork, start: number, presence: number) {
  return { start, presence, span: spanOf(one), calendar: calendarOf(one.problem, one.mode).calendar };
}

describe('what is drawn from a budget', () => {
  it('stays within its limit a day: with 3 of 4 minutes drawn in the first day, two more begin in its last minute', () => {
    const windows = [
      { from: 0, to: 10 },
      { from: 10, to: 20 },
    ];
    const problem = blankProblem({ horizon: 20, budgets: [{ name: 'machine', windows, limit: 4 }] });
    const mode = { work: 2, uses: [], budget: 0 };
    const one: PausingWork = { problem, mode, operation: work('polish', 0, 2, { modes: [mode] }) };
    const solver = new Solver();
    const start = solver.bounds.newVariable(0, 18);
    new BudgetDraw(solver, [drawer(one, start, ALWAYS)], new BudgetWindows(problem.budgets[0]!, 0), [3, 0]);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect([solver.bounds.min(start), solver.bounds.max(start)]).toEqual([9, 18]);
  });

  it('keeps every plan and no other, of random work with pauses, one of which may be absent', () => {
    for (let seed = 0; seed < 300; seed++) {
      const random = seededRandom(seed);
      const problem = pausingProblem(random, HORIZON);
      const works = Array.from({ length: random.whole(2, 3) }, () => pausingWork(problem, random, true));
      const last = works.length - 1;
      const drawn = [random.whole(0, 1), 0];
      const { windows, limit } = problem.budgets[0]!;
      const domains: Domain[] = works.map((): Domain => [random.whole(0, 2), random.whole(3, 6)]);
      domains.push([0, 1]);
      const holds = (x: readonly number[]) => {
        const isThere = (k: number) => k < last || x[last + 1] === 1;
        const pieces = works.map((each, k) => (isThere(k) ? piecesFrom(each, x[k]!) : []));
        if (pieces.includes(undefined)) return false;
        return windows.every(({ from, to }, w) => {
          let minutes = 0;
          for (let minute = from; minute < to; minute++) {
            for (const each of pieces) if (isWorkedAt(each!, minute)) minutes++;
          }
          return minutes === 0 || minutes + drawn[w]! <= limit;
        });
      };
      expectAgreement(domains, holds, (solver, halves) => {
        const drawers = works.map((each, k) => {
          const presence = k < last ? ALWAYS : halves[last + 1]!;
          if (k < last) {
            const end = solver.bounds.newVariable(0, HORIZON);
            new WorkContent(solver, halves[k]!, end, [{ presence, span: spanOf(each) }]);
          } else forbidStarts(solver, each, halves[k]!, presence);
          return drawer(each, halves[k]!, presence);
        });
        new BudgetDraw(solver, drawers, new BudgetWindows(problem.budgets[0]!, 0), drawn);
        return undefined;
      });
    }
  }, 60_000);
});

/** Where it cannot begin, the work is absent. */
function forbidStarts(solver: Solver, one: PausingWork, start: number, presence: number): void {
  for (let minute = 0; minute < HORIZON; minute++) {
    if (piecesFrom(one, minute) !== undefined) continue;
    solver.addClause([presence ^ 1, 0, start, minute + 1, start ^ 1, 1 - minute]);
  }
}
