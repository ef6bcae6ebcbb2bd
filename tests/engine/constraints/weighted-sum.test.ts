import { describe, expect, it } from 'vitest';
import { WeightedSum } from '../../../src/engine/constraints/weighted-sum.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { Dice } from '../prove/random-problem.ts';
import { expectAgreement } from './every-solution.ts';

describe('weighted sum', () => {
  it('a total of at most 10 holds 2a + 3b + 1 to what the least of the others leaves', () => {
    const solver = new Solver();
    const a = solver.bounds.newVariable(1, 9);
    const b = solver.bounds.newVariable(1, 9);
    const total = solver.bounds.newVariable(0, 10);
    new WeightedSum(
      solver,
      [
        { half: a, weight: 2 },
        { half: b, weight: 3 },
      ],
      total,
      1,
    );
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.min(total)).toBe(6);
    expect([solver.bounds.max(a), solver.bounds.max(b)]).toEqual([3, 2]);
  });

  it('agrees with trying every value, also of terms counted negatively', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const dice = new Dice(seed);
      const terms = [0, 1, 2].map((k) => ({ k, weight: 1 + dice.below(3), negative: dice.chance(30) }));
      const constant = dice.below(5) - 2;
      expectAgreement(
        [
          [0, 3],
          [1, 3],
          [0, 2],
          [0, 8],
        ],
        (x) =>
          x[3]! >=
          terms.reduce((sum, { k, weight, negative }) => sum + (negative ? -weight : weight) * x[k]!, constant),
        (solver, halves) => {
          const named = terms.map(({ k, weight, negative }) => ({ half: halves[k]! ^ (negative ? 1 : 0), weight }));
          new WeightedSum(solver, named, halves[3]!, constant);
          return undefined;
        },
      );
    }
  });
});
