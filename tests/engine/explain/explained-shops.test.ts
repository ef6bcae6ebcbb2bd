import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { explain, type TrySolve } from '../../../src/engine/explain/explain.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import { randomShop } from '../random/random-shop.ts';

const trySolve: TrySolve = (problem) => solve(problem, { seed: 1, workLimit: 0 }).status;

/** A random shop with a plan, whose first car is wanted back one minute before the plan hands it over, and earlier. */
function tooTight(seed: number, minutes: number): Problem | undefined {
  const problem = randomShop(seed);
  const handover = problem.jobs[0]!.handover!;
  const { schedule } = solve(problem, { seed: 1, workLimit: 0 });
  if (schedule === null) return undefined;
  const deadline = schedule.operations[handover]!.end - minutes;
  const operations = problem.operations.map((operation, o) =>
    o === handover ? { ...operation, deadline } : operation,
  );
  const tight = { ...problem, operations };
  return trySolve(tight) === 'infeasible' || trySolve(tight) === 'unknown' ? tight : undefined;
}

describe('shops that cannot keep a deadline', () => {
  test('are told that deadline among what cannot all be kept, and a later pickup that can', () => {
    let explained = 0;
    for (let seed = 0; seed < 30 && explained < 6; seed++) {
      const problem = tooTight(seed, 600);
      if (problem === undefined) continue;
      explained++;
      const { conflict, nearest } = explain(problem, trySolve, { attempts: 60 });
      expect(
        conflict.parts.map(({ kind }) => kind),
        `seed ${seed}`,
      ).toContain('deadline');
      expect(
        nearest.some(({ text }) => text.startsWith('Hand "car 0" back')),
        `seed ${seed}`,
      ).toBe(true);
      for (const { relaxed, text } of nearest) {
        expect(validate(relaxed), text).toEqual([]);
        const { schedule } = solve(relaxed, { seed: 1, workLimit: 0 });
        expect(schedule, text).not.toBeNull();
        const rules = check(relaxed, schedule!).map(({ invariant, rule }) => `${invariant} ${rule}`);
        expect(rules, `seed ${seed}: ${text}`).toEqual([]);
      }
    }
    expect(explained).toBe(6);
  }, 120_000);
});
