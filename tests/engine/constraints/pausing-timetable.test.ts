import { describe, expect, it } from 'vitest';
import { PausingTimetable } from '../../../src/engine/constraints/pausing-timetable.ts';
import { ALWAYS } from '../../../src/engine/constraints/task.ts';
import { WorkContent } from '../../../src/engine/constraints/work-content.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { type Domain, expectAgreement } from './every-solution.ts';
import { isWorkedAt, type PausingWork, pausingProblem, pausingWork, piecesFrom, spanOf } from './pausing-work.ts';

const HORIZON = 9;

function post(solver: Solver, one: PausingWork, start: number, end: number, presence: number) {
  const span = spanOf(one);
  new WorkContent(solver, start, end, [{ presence, span }], presence);
  return { start, end, endOffset: 0, presence, span };
}

describe('a timetable that sees pauses', () => {
  it('lets other work be done in a pause: work of 4 minutes over a noon of 2 leaves its person free at noon', () => {
    const problem = blankProblem({ horizon: 10, progresses: [{ at: [0, 4, 6], rate: [1, 0, 1] }] });
    const operation = work('polish', 0, 4, { pausable: true, modes: [{ work: 4, progress: 0, uses: [] }] });
    const polish: PausingWork = { problem, operation, mode: operation.modes[0]! };
    const solver = new Solver();
    const start = solver.bounds.newVariable(2, 2);
    const phone = solver.bounds.newVariable(2, 6);
    const tasks = [
      { ...post(solver, polish, start, solver.bounds.newVariable(0, HORIZON), ALWAYS), amount: 1 },
      { start: phone, end: phone, endOffset: 1, amount: 1, presence: ALWAYS },
    ];
    new PausingTimetable(solver, tasks, 1, []);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect([solver.bounds.min(phone), solver.bounds.max(phone)]).toEqual([4, 5]);
  });

  it('keeps every plan and no other, of random work with pauses and budgets, one of which may be absent', () => {
    for (let seed = 0; seed < 300; seed++) {
      const random = seededRandom(seed);
      const problem = pausingProblem(random, HORIZON);
      const works = Array.from({ length: random.whole(2, 3) }, () => ({
        ...pausingWork(problem, random, random.chance(0.3)),
        amount: random.whole(1, 2),
      }));
      const taken = random.chance(0.4) ? [{ from: 2, to: 4, amount: 1 }] : [];
      // The starts, then the end and the presence of the last, which may be absent and then begin and end anyhow.
      const domains: Domain[] = works.map((): Domain => [random.whole(0, 2), random.whole(3, 6)]);
      const last = works.length - 1;
      domains.push([random.whole(1, 3), random.whole(5, HORIZON)], [0, 1]);
      const holds = (x: readonly number[]) => {
        const isThere = x[last + 2] === 1;
        const pieces = works.map((each, k) => (k < last || isThere ? piecesFrom(each, x[k]!) : []));
        if (pieces.includes(undefined) || (isThere && pieces[last]!.at(-1)!.to !== x[last + 1])) return false;
        for (let minute = 0; minute < HORIZON; minute++) {
          let held = taken.reduce((sum, t) => (t.from <= minute && minute < t.to ? sum + t.amount : sum), 0);
          for (const [k, each] of works.entries()) if (isWorkedAt(pieces[k]!, minute)) held += each.amount;
          if (held > 2) return false;
        }
        return true;
      };
      expectAgreement(domains, holds, (solver, halves) => {
        const tasks = works.map((each, k) => {
          const end = k < last ? solver.bounds.newVariable(0, HORIZON) : halves[last + 1]!;
          return { ...post(solver, each, halves[k]!, end, k < last ? ALWAYS : halves[last + 2]!), amount: each.amount };
        });
        new PausingTimetable(solver, tasks, 2, taken);
        return undefined;
      });
    }
  }, 60_000);
});
