import { describe, expect, it } from 'vitest';
import { type CostByStart, DistanceCost, TableCost } from '../../../src/engine/constraints/cost-by-start.ts';
import { StartCost } from '../../../src/engine/constraints/start-cost.ts';
import { ALWAYS } from '../../../src/engine/constraints/task.ts';
import { NO_END, NO_START } from '../../../src/engine/constraints/work-span.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { type SeededRandom, seededRandom } from '../random/seeded-random.ts';
import { type Domain, expectAgreement } from './every-solution.ts';

/** A random cost, and the same as a function of the start; undefined where the mode cannot begin. */
function randomCost(random: SeededRandom): { cost: CostByStart; at: (start: number) => number | undefined } {
  if (random.chance(0.4)) {
    const wanted = random.whole(0, 8);
    const besides = random.whole(0, 2);
    return { cost: new DistanceCost(wanted, besides), at: (start) => Math.abs(start - wanted) + besides };
  }
  const starts = Array.from({ length: 12 }, (_, t) => t).filter(() => random.chance(0.8));
  const costs = starts.map(() => random.whole(0, 5));
  const cost = new TableCost(Int32Array.from(starts), Int32Array.from(costs));
  return { cost, at: (start) => costs[starts.indexOf(start)] };
}

describe('what an operation costs by its start', () => {
  it('is at least the least over its starts: two minutes of overtime when it begins at 5, none before', () => {
    const solver = new Solver();
    const start = solver.bounds.newVariable(5, 8);
    const cost = solver.bounds.newVariable(0, 9);
    const table = new TableCost(Int32Array.from([3, 4, 5, 6, 7]), Int32Array.from([0, 0, 2, 3, 4]));
    new StartCost(solver, start, cost, [{ presence: ALWAYS, cost: table }], ALWAYS);
    solver.require(cost ^ 1, -3);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.min(cost)).toBe(2);
    expect(solver.bounds.max(start)).toBe(6);
  });

  it('answers about long tables as reading them from end to end does', () => {
    const random = seededRandom(5);
    const starts = Int32Array.from({ length: 400 }, (_, k) => 2 * k);
    const costs = Int32Array.from(starts, () => random.whole(0, 50));
    const table = new TableCost(starts, costs);
    for (let k = 0; k < 500; k++) {
      const from = random.whole(-5, 400);
      const to = random.whole(from + 2, 810);
      const most = random.whole(0, 3);
      const inside = [...starts.keys()].filter((s) => starts[s]! >= from && starts[s]! <= to);
      expect(table.least(from, to)).toBe(Math.min(...inside.map((s) => costs[s]!)));
      const cheap = [...starts.keys()].filter((s) => costs[s]! <= most).map((s) => starts[s]!);
      expect(table.firstAtMost(from, most)).toBe(cheap.find((start) => start >= from) ?? NO_END);
      expect(table.lastAtMost(to, most)).toBe(cheap.findLast((start) => start <= to) ?? NO_START);
    }
  });

  it('keeps every plan and no other, of two modes of an operation that may be absent', () => {
    for (let seed = 0; seed < 500; seed++) {
      const random = seededRandom(seed);
      const costs = [randomCost(random), randomCost(random)];
      const optional = random.chance(0.5);
      const from = random.whole(0, 3);
      // Start, cost, and the two modes.
      const domains: Domain[] = [
        [from, from + random.whole(0, 5)],
        [random.whole(0, 1), random.whole(2, 6)],
        [0, 1],
        [0, 1],
      ];
      const holds = ([start, cost, one, other]: readonly number[]) => {
        if (one! + other! !== 1) return one! + other! === 0 && optional;
        const least = costs[one === 1 ? 0 : 1]!.at(start!);
        return least !== undefined && cost! >= least;
      };
      expectAgreement(domains, holds, (solver, [start, cost, one, other]) => {
        const presence = optional ? solver.bounds.newBoolean() : ALWAYS;
        solver.addClause([one! ^ 1, 0, other! ^ 1, 0]);
        if (optional) {
          for (const mode of [one!, other!]) solver.addClause([mode ^ 1, 0, presence, 1]);
          solver.addClause([presence ^ 1, 0, one!, 1, other!, 1]);
        } else solver.addClause([one!, 1, other!, 1]);
        const modes = [one!, other!].map((mode, m) => ({ presence: mode, cost: costs[m]!.cost }));
        new StartCost(solver, start!, cost!, modes, presence);
        return undefined;
      });
    }
  });
});
