import { describe, expect, it } from 'vitest';
import { TimeLags } from '../../../src/engine/constraints/time-lag.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { Dice } from '../prove/random-problem.ts';
import { expectAgreement } from './every-solution.ts';

describe('time lags', () => {
  it('a lag of 3 to 5 minutes moves both ends: 0..10 and 0..4 become 0..1 and 3..4', () => {
    const solver = new Solver();
    const lags = new TimeLags(solver);
    const a = solver.bounds.newVariable(0, 10);
    const b = solver.bounds.newVariable(0, 4);
    lags.add(a, b, 3);
    lags.add(b, a, -5);
    solver.seal();
    expect(lags.start() && solver.propagate()).toBe(true);
    expect([solver.bounds.min(a), solver.bounds.max(a)]).toEqual([0, 1]);
    expect([solver.bounds.min(b), solver.bounds.max(b)]).toEqual([3, 4]);
  });

  it('an order that no longer fits is turned', () => {
    const solver = new Solver();
    const lags = new TimeLags(solver);
    const a = solver.bounds.newVariable(4, 9);
    const b = solver.bounds.newVariable(0, 5);
    const first = solver.bounds.newBoolean();
    lags.add(a, b, 3, [first]);
    lags.add(b, a, 3, [first ^ 1]);
    solver.seal();
    expect(lags.start() && solver.propagate()).toBe(true);
    expect(solver.bounds.max(first)).toBe(0);
  });

  it('conditions that close a positive cycle are refused together within a few steps of a long horizon', () => {
    const solver = new Solver();
    const lags = new TimeLags(solver);
    const x = [0, 1, 2].map(() => solver.bounds.newVariable(0, 1_000_000));
    const c = [0, 1, 2].map(() => solver.bounds.newBoolean());
    for (let k = 0; k < 3; k++) lags.add(x[k]!, x[(k + 1) % 3]!, k === 0 ? 3 : -1, [c[k]!]);
    solver.seal();
    expect(lags.start() && solver.propagate()).toBe(true);
    const before = solver.work;
    solver.decide(c[0]!, 1);
    solver.propagate();
    solver.decide(c[1]!, 1);
    solver.propagate();
    solver.decide(c[2]!, 1);
    expect(solver.propagate()).toBe(false);
    expect(solver.work - before).toBeLessThan(500);
    expect(solver.learn()).toBe(true);
    expect(solver.bounds.max(c[2]!)).toBe(0);
  });

  it('agrees with trying every value, with and without conditions', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const dice = new Dice(seed);
      const lags = Array.from({ length: 5 }, () => ({
        from: dice.below(3),
        to: dice.below(3),
        gap: dice.below(7) - 3,
        conditions: [3, 4].filter(() => dice.chance(40)).map((k) => ({ k, wanted: dice.below(2) })),
      })).filter(({ from, to }) => from !== to);
      expectAgreement(
        [
          [0, 4],
          [1, 5],
          [0, 4],
          [0, 1],
          [0, 1],
        ],
        (x) =>
          lags.every(
            ({ from, to, gap, conditions }) =>
              conditions.some(({ k, wanted }) => x[k] !== wanted) || x[to]! - x[from]! >= gap,
          ),
        (solver, halves) => {
          const timeLags = new TimeLags(solver);
          for (const { from, to, gap, conditions } of lags) {
            const named = conditions.map(({ k, wanted }) => (wanted === 1 ? halves[k]! : halves[k]! ^ 1));
            timeLags.add(halves[from]!, halves[to]!, gap, named);
          }
          return { start: () => timeLags.start() };
        },
      );
    }
  });
});
