import { describe, expect, it } from 'vitest';
import { Disjunctive, type DisjunctiveTask, NEVER_KNOWN } from '../../../src/engine/constraints/disjunctive.ts';
import { ALWAYS } from '../../../src/engine/constraints/task.ts';
import { TimeLags } from '../../../src/engine/constraints/time-lag.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';
import { Dice } from '../prove/random-problem.ts';
import { type Domain, expectAgreement } from './every-solution.ts';

function tasksIn(solver: Solver, windows: readonly (readonly [number, number, number])[]): DisjunctiveTask[] {
  return windows.map(([release, due, minutes]) => {
    const start = solver.bounds.newVariable(release, due - minutes);
    return { start, end: start, endOffset: minutes, minutes, presence: ALWAYS };
  });
}

describe('disjunctive', () => {
  it('edge finding: a task that fits neither before nor between two others follows both', () => {
    // Two of 4 minutes share [4, 13), so the third, of 5 minutes from 2 on, cannot end by 4 nor lie between.
    const solver = new Solver();
    const tasks = tasksIn(solver, [
      [4, 13, 4],
      [4, 13, 4],
      [2, 40, 5],
    ]);
    new Disjunctive(solver, tasks, () => NEVER_KNOWN);
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.min(tasks[2]!.start)).toBe(12);
  });

  it('overload: three tasks of 4 minutes do not fit into 11', () => {
    const solver = new Solver();
    new Disjunctive(
      solver,
      tasksIn(solver, [
        [0, 11, 4],
        [0, 11, 4],
        [0, 11, 4],
      ]),
      () => NEVER_KNOWN,
    );
    solver.seal();
    expect(solver.propagate()).toBe(false);
  });

  it('a task known to follow two others waits for both together', () => {
    const solver = new Solver();
    const tasks = tasksIn(solver, [
      [0, 40, 5],
      [1, 40, 6],
      [0, 40, 3],
    ]);
    const after = solver.bounds.newVariable(1, 1);
    new Disjunctive(solver, tasks, (i, j) => (j === 2 ? after : i === 2 ? after ^ 1 : NEVER_KNOWN));
    solver.seal();
    expect(solver.propagate()).toBe(true);
    expect(solver.bounds.min(tasks[2]!.start)).toBe(11);
  });

  it('agrees with trying every start, with tasks that may be absent', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const dice = new Dice(seed);
      const tasks = [0, 1, 2, 3].map((k) => {
        const release = dice.below(4);
        return {
          release,
          latest: release + 1 + dice.below(5),
          minutes: 1 + dice.below(3),
          optional: k > 1 && dice.chance(50),
        };
      });
      const domains: Domain[] = tasks.map(({ release, latest }): Domain => [release, latest]);
      const presence = tasks.map(({ optional }) => (optional ? domains.push([0, 1]) - 1 : ALWAYS));
      const pairs = tasks.flatMap((_, i) => tasks.map((_, j) => [i, j] as const).filter(([a, b]) => a < b));
      const order = new Map(pairs.map(([i, j]) => [i * 4 + j, domains.push([0, 1]) - 1]));
      const isThere = (x: readonly number[], k: number) => presence[k] === ALWAYS || x[presence[k]!] === 1;
      expectAgreement(
        domains,
        (x) =>
          pairs.every(([i, j]) => {
            const first = x[order.get(i * 4 + j)!] === 1;
            // An order that no presence asks for takes one value, so that each solution is counted once.
            if (!isThere(x, i) || !isThere(x, j)) return first;
            return first ? x[i]! + tasks[i]!.minutes <= x[j]! : x[j]! + tasks[j]!.minutes <= x[i]!;
          }),
        (solver, halves) => {
          const lags = new TimeLags(solver);
          const there = (k: number) => (presence[k] === ALWAYS ? [] : [halves[presence[k]!]!]);
          for (const [i, j] of pairs) {
            const first = halves[order.get(i * 4 + j)!]!;
            lags.add(halves[i]!, halves[j]!, tasks[i]!.minutes, [first, ...there(i), ...there(j)]);
            lags.add(halves[j]!, halves[i]!, tasks[j]!.minutes, [first ^ 1, ...there(i), ...there(j)]);
            for (const k of [i, j]) for (const p of there(k)) solver.addClause([p, 1, first, 1]);
          }
          new Disjunctive(
            solver,
            tasks.map(({ minutes }, k) => ({
              start: halves[k]!,
              end: halves[k]!,
              endOffset: minutes,
              minutes,
              presence: presence[k] === ALWAYS ? ALWAYS : halves[presence[k]!]!,
            })),
            (i, j) => (i < j ? halves[order.get(i * 4 + j)!]! : halves[order.get(j * 4 + i)!]! ^ 1),
          );
          return { start: () => lags.start() };
        },
      );
    }
  });
});
