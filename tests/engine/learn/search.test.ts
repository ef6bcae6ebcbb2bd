import { describe, expect, it } from 'vitest';
import { luby, Search } from '../../../src/engine/learn/search.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { expectAgreement, FirstOpen } from '../constraints/every-solution.ts';
import { Dice } from '../prove/random-problem.ts';

const limits = { conflicts: 1e6, work: 1e9, stop: () => false };

/** n + 1 pigeons into n holes: famous for having no solution (Haken 1985). */
function pigeons(holes: number): Solver {
  const solver = new Solver();
  const inHole = Array.from({ length: holes + 1 }, () =>
    Array.from({ length: holes }, () => solver.bounds.newBoolean()),
  );
  for (const row of inHole) solver.addClause(row.flatMap((h) => [h, 1]));
  for (let hole = 0; hole < holes; hole++) {
    for (let p = 0; p <= holes; p++) {
      for (let q = p + 1; q <= holes; q++) solver.addClause([inHole[p]![hole]! ^ 1, 0, inHole[q]![hole]! ^ 1, 0]);
    }
  }
  return solver;
}

describe('search', () => {
  it('restarts after the Luby sequence (Luby, Sinclair and Zuckerman, Information Processing Letters 47, 1993)', () => {
    expect(Array.from({ length: 15 }, (_, k) => luby(k + 1))).toEqual([1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
  });

  it('seven pigeons do not fit into six holes', () => {
    const solver = pigeons(6);
    expect(new Search(solver, new FirstOpen(solver)).run(limits)).toBe('none');
  });

  it('the same search does the same work', () => {
    const works = [0, 1].map(() => {
      const solver = pigeons(5);
      new Search(solver, new FirstOpen(solver)).run(limits);
      return [solver.work, solver.conflicts];
    });
    expect(works[0]).toEqual(works[1]);
    expect(works[0]![1]).toBeGreaterThan(10);
  });

  it('stops at its limit of conflicts, and when it is told to', () => {
    const solver = pigeons(7);
    const search = new Search(solver, new FirstOpen(solver));
    expect(search.run({ ...limits, conflicts: 10 })).toBe('limit');
    expect(solver.conflicts).toBe(10);
    expect(search.run({ ...limits, stop: () => true })).toBe('limit');
  });

  it('an assumption that fails says nothing of the problem without it', () => {
    const solver = new Solver();
    const x = solver.bounds.newVariable(0, 5);
    const y = solver.bounds.newVariable(0, 5);
    solver.addClause([x, 3, y, 4]);
    const search = new Search(solver, new FirstOpen(solver));
    expect(search.run(limits, [x ^ 1, -2, y ^ 1, -3])).toBe('none-assumed');
    expect(search.run(limits, [x ^ 1, -2])).toBe('solution');
    expect(solver.bounds.min(y)).toBeGreaterThanOrEqual(4);
    solver.backtrackTo(0);
    expect(search.run(limits)).toBe('solution');
  });

  it('agrees with trying every value on random clauses over bounds', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const dice = new Dice(seed);
      const clauses = Array.from({ length: 9 }, () =>
        Array.from({ length: 1 + dice.below(3) }, () => ({
          k: dice.below(4),
          atLeast: dice.chance(50),
          b: dice.below(4),
        })),
      );
      expectAgreement(
        [
          [0, 3],
          [0, 3],
          [0, 2],
          [0, 3],
        ],
        (x) => clauses.every((clause) => clause.some(({ k, atLeast, b }) => (atLeast ? x[k]! >= b : x[k]! <= b))),
        (solver, halves) => {
          for (const clause of clauses) {
            solver.addClause(clause.flatMap(({ k, atLeast, b }) => (atLeast ? [halves[k]!, b] : [halves[k]! ^ 1, -b])));
          }
          return undefined;
        },
      );
    }
  });
});
