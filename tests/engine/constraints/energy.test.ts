import { describe, expect, it } from 'vitest';
import { Energy } from '../../../src/engine/constraints/energy.ts';
import { ALWAYS } from '../../../src/engine/constraints/task.ts';
import { Timetable } from '../../../src/engine/constraints/timetable.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { type Domain, expectAgreement } from './every-solution.ts';

describe('energy of a resource', () => {
  it('pushes what would need more than is left: of 10 in [0, 5), 8 are taken, so that only 2 minutes more fit', () => {
    const solver = new Solver();
    const first = solver.bounds.newVariable(0, 1);
    const second = solver.bounds.newVariable(0, 9);
    const tasks = [
      { start: first, minutes: 4, amount: 2 },
      { start: second, minutes: 4, amount: 1 },
    ];
    new Energy(solver, tasks, 2, []);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.min(second)).toBe(3);
  });

  it('is exceeded by three times 4 minutes of one in a window of 5 where there are two', () => {
    const solver = new Solver();
    const tasks = [0, 1, 2].map(() => ({ start: solver.bounds.newVariable(0, 1), minutes: 4, amount: 1 }));
    new Energy(solver, tasks, 2, []);
    solver.seal();
    expect(solver.propagate()).toBe(false);
  });

  it('keeps every plan and no other, beside a timetable', () => {
    for (let seed = 0; seed < 600; seed++) {
      const random = seededRandom(seed);
      const capacity = random.whole(2, 4);
      const tasks = Array.from({ length: random.whole(3, 4) }, () => ({
        minutes: random.whole(1, 4),
        amount: random.whole(1, capacity),
      }));
      const taken = random.chance(0.4) ? [{ from: 2, to: random.whole(3, 5), amount: 1 }] : [];
      const domains: Domain[] = tasks.map(() => {
        const from = random.whole(0, 3);
        return [from, from + random.whole(0, 4)];
      });
      const holds = (x: readonly number[]) => {
        for (let t = 0; t < 14; t++) {
          let held = 0;
          for (const [k, { minutes, amount }] of tasks.entries()) if (x[k]! <= t && t < x[k]! + minutes) held += amount;
          if (held === 0) continue;
          for (const { from, to, amount } of taken) if (from <= t && t < to) held += amount;
          if (held > capacity) return false;
        }
        return true;
      };
      expectAgreement(domains, holds, (solver: Solver, halves) => {
        new Energy(
          solver,
          tasks.map(({ minutes, amount }, k) => ({ start: halves[k]!, minutes, amount })),
          capacity,
          taken,
        );
        new Timetable(
          solver,
          tasks.map(({ minutes, amount }, k) => ({
            start: halves[k]!,
            end: halves[k]!,
            endOffset: minutes,
            amount,
            presence: ALWAYS,
          })),
          capacity,
          taken,
        );
        return undefined;
      });
    }
  }, 120_000);
});
