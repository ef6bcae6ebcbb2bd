import { describe, expect, it } from 'vitest';
import { ALWAYS } from '../../../src/engine/constraints/task.ts';
import { Timetable } from '../../../src/engine/constraints/timetable.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { Dice } from '../prove/random-problem.ts';
import { type Domain, expectAgreement } from './every-solution.ts';

describe('timetable', () => {
  it('a task is pushed past minutes that another surely holds', () => {
    const solver = new Solver();
    // Lasts 4 from 1..2: surely there in [2, 5).
    const sure = solver.bounds.newVariable(1, 2);
    const free = solver.bounds.newVariable(0, 9);
    const task = (start: number, endOffset: number) => ({ start, end: start, endOffset, amount: 1, presence: ALWAYS });
    new Timetable(solver, [task(sure, 4), task(free, 3)], 1, []);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.min(free)).toBe(5);
  });

  it('what is taken from outside leaves its minutes to nobody', () => {
    const solver = new Solver();
    const start = solver.bounds.newVariable(0, 9);
    const task = { start, end: start, endOffset: 2, amount: 1, presence: ALWAYS };
    new Timetable(solver, [task], 1, [{ from: 1, to: 4, amount: 1 }]);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.min(start)).toBe(4);
  });

  it('a mode that does not fit where it surely would lie is refused', () => {
    const solver = new Solver();
    const sure = solver.bounds.newVariable(0, 0);
    const start = solver.bounds.newVariable(1, 2);
    const presence = solver.bounds.newBoolean();
    new Timetable(
      solver,
      [
        { start: sure, end: sure, endOffset: 4, amount: 2, presence: ALWAYS },
        { start, end: start, endOffset: 3, amount: 1, presence },
      ],
      2,
      [],
    );
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.max(presence)).toBe(0);
  });

  it('agrees with trying every start, with durations fixed or open and with tasks that may be absent', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const dice = new Dice(seed);
      const capacity = 1 + dice.below(3);
      const taken = dice.chance(50) ? [{ from: 2, to: 4, amount: 1 }] : [];
      const tasks = [0, 1, 2].map(() => ({
        minutes: 1 + dice.below(3),
        amount: dice.below(3),
        open: dice.chance(30),
        optional: dice.chance(30),
      }));
      // Per task: start, then its end when it is open, then its presence when it is optional.
      const domains: Domain[] = [];
      const places = tasks.map(({ open, optional }) => {
        const start = domains.push([0, 4]) - 1;
        return {
          start,
          end: open ? domains.push([2, 5]) - 1 : start,
          presence: optional ? domains.push([0, 1]) - 1 : ALWAYS,
        };
      });
      expectAgreement(
        domains,
        (x) => {
          for (let t = 0; t < 10; t++) {
            let held = 0;
            for (const [k, { start, end, presence }] of places.entries()) {
              const { minutes, amount, open } = tasks[k]!;
              const to = open ? x[end]! : x[start]! + minutes;
              if ((presence === ALWAYS || x[presence] === 1) && x[start]! <= t && t < to) held += amount;
            }
            if (held === 0) continue;
            for (const { from, to, amount } of taken) if (from <= t && t < to) held += amount;
            if (held > capacity) return false;
          }
          return true;
        },
        (solver, halves) => {
          new Timetable(
            solver,
            places.map(({ start, end, presence }, k) => ({
              start: halves[start]!,
              end: halves[end]!,
              endOffset: tasks[k]!.open ? 0 : tasks[k]!.minutes,
              amount: tasks[k]!.amount,
              presence: presence === ALWAYS ? ALWAYS : halves[presence]!,
            })),
            capacity,
            taken,
          );
          return undefined;
        },
      );
    }
  });
});
