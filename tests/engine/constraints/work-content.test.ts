import { describe, expect, it } from 'vitest';
import { ALWAYS } from '../../../src/engine/constraints/task.ts';
import { WorkContent } from '../../../src/engine/constraints/work-content.ts';
import { CalendarSpan, SteadySpan, type WorkSpan } from '../../../src/engine/constraints/work-span.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { Dice } from '../prove/random-problem.ts';
import { type Domain, expectAgreement } from './every-solution.ts';

describe('work content', () => {
  it('modes of 3 and 5 minutes, start in 0..4, end in 2..4: the mode of 5 is refused', () => {
    const solver = new Solver();
    const start = solver.bounds.newVariable(0, 4);
    const end = solver.bounds.newVariable(2, 4);
    const short = solver.bounds.newBoolean();
    const long = solver.bounds.newBoolean();
    new WorkContent(solver, start, end, [
      { presence: short, span: new SteadySpan(3) },
      { presence: long, span: new SteadySpan(5) },
    ]);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.max(long)).toBe(0);
    expect([solver.bounds.max(start), solver.bounds.min(end)]).toEqual([1, 3]);
  });

  it('work that a night interrupts ends after the night', () => {
    const solver = new Solver();
    const start = solver.bounds.newVariable(7, 9);
    const end = solver.bounds.newVariable(0, 40);
    // Two minutes of work; the shop is shut in [9, 20).
    const span = new CalendarSpan(Int32Array.of(6, 7, 8, 20), Int32Array.of(8, 9, 21, 22));
    new WorkContent(solver, start, end, [{ presence: ALWAYS, span }]);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect([solver.bounds.min(start), solver.bounds.max(start)]).toEqual([7, 8]);
    expect([solver.bounds.min(end), solver.bounds.max(end)]).toEqual([9, 21]);
  });

  it('agrees with trying every start, end and mode', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const dice = new Dice(seed);
      const spans = Array.from({ length: 1 + dice.below(3) }, (): WorkSpan => {
        if (dice.chance(50)) return new SteadySpan(dice.below(4));
        const starts: number[] = [];
        const ends: number[] = [];
        for (let t = 0; t < 7; t++) {
          if (dice.chance(50)) continue;
          starts.push(t);
          ends.push(Math.max(t + 1 + dice.below(3), ends.at(-1) ?? 0));
        }
        return new CalendarSpan(Int32Array.from(starts), Int32Array.from(ends));
      });
      const single = spans.length === 1;
      const domains: Domain[] = [
        [dice.below(3), 6],
        [1, 5 + dice.below(4)],
      ];
      if (!single) for (let m = 0; m < spans.length; m++) domains.push([0, 1]);
      const fits = (span: WorkSpan, start: number, end: number) =>
        span.next(start) === start && span.end(start) === end;
      expectAgreement(
        domains,
        ([start, end, ...chosen]) => {
          if (single) return fits(spans[0]!, start!, end!);
          return chosen.filter((c) => c === 1).length === 1 && fits(spans[chosen.indexOf(1)]!, start!, end!);
        },
        (solver, [start, end, ...chosen]) => {
          const modes = spans.map((span, m) => ({ presence: single ? ALWAYS : chosen[m]!, span }));
          if (!single) {
            solver.addClause(chosen.flatMap((p) => [p, 1]));
            for (const p of chosen) for (const q of chosen) if (p < q) solver.addClause([p ^ 1, 0, q ^ 1, 0]);
          }
          new WorkContent(solver, start!, end!, modes);
          return undefined;
        },
      );
    }
  });
});
