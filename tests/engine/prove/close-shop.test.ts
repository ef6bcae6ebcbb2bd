import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { partsOf } from '../../../src/engine/explain/parts.ts';
import { without } from '../../../src/engine/explain/without.ts';
import { compareTiers } from '../../../src/engine/improve/tiers.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { ConflictPart } from '../../../src/engine/problem/solution.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { solve } from '../../../src/engine/solve.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { randomShop } from '../random/random-shop.ts';

const SHOPS = 5;

/** Two cars, each two hours in the one bay with the one person, promised for the same minute. */
function twoCarsOneBay(promisedAt: number): Problem {
  const uses = [{ resource: 0, amount: 100 }];
  return blankProblem({
    horizon: 600,
    resources: [{ name: 'person', capacity: 100, kind: 'person' }],
    places: [{ name: 'bay', turnaround: 15, blockedBy: [] }],
    jobs: [0, 1].map((job) => ({
      name: `car ${job}`,
      stays: [job],
      release: 0,
      arrival: 2 * job,
      handover: 2 * job + 1,
      ready: 2 * job,
      promise: { at: promisedAt, weight: 1 },
    })),
    stays: [0, 1].map((job) => ({ job, places: [0], optional: false })),
    operations: [0, 1].flatMap((job) => [
      work('wash', job, 120, { stay: job, modes: [{ work: 120, uses }] }),
      work('handover', job, 10, { stay: job, modes: [{ work: 10, uses }] }),
    ]),
    lags: [endToStart(0, 1), endToStart(2, 3)],
    tiers: ['broken', 'tardiness', 'lead'],
  });
}

describe('a small shop', () => {
  it('is planned best, and said to be: the second car waits for the first, the bay and its turnaround', () => {
    // The first is handed over at 120, and gone at 130; the second comes at 145 and is ready 120 minutes later.
    const solution = solve(twoCarsOneBay(200), { seed: 1, workLimit: 100_000 });
    expect(solution.status).toBe('optimal');
    expect(solution.objective).toEqual([1, 65, 240]);
    expect(solution.bound).toEqual([1, 65, 240]);
  });

  it('that has no plan is told so with parts that clash, and any of which left out leaves a plan', () => {
    const base = twoCarsOneBay(200);
    const problem = { ...base, operations: base.operations.map((each) => ({ ...each, deadline: 260 })) };
    const { status, conflict } = solve(problem, { seed: 1, workLimit: 400_000 });
    expect(status).toBe('infeasible');
    expect(conflict!.minimal).toBe(true);
    const named = (part: ConflictPart) => `${part.kind} ${part.index}`;
    const kept = new Set(conflict!.parts.map(named));
    const others = partsOf(problem).filter((part) => !kept.has(named(part)));
    const statusWithout = (parts: readonly ConflictPart[]) =>
      prove({ ...without(problem, parts), tiers: [] }, { seed: 1, workLimit: 20_000_000 }).status;
    expect(statusWithout(others)).toBe('infeasible');
    for (const part of conflict!.parts) expect(statusWithout([...others, part]), part.text).toBe('optimal');
  });

  it('gets plans that obey every rule, no worse than construction alone, with a bound they do not beat', () => {
    let proved = 0;
    for (let seed = 80_000; seed < 80_000 + SHOPS; seed++) {
      const problem = randomShop(seed);
      const before = solve(problem, { seed, workLimit: 5000 });
      const { status, schedule, objective, bound } = solve(problem, { seed, workLimit: 60_000 });
      if (schedule === null) continue;
      expect(check(problem, schedule), `seed ${seed}`).toEqual([]);
      expect(measure(problem, schedule)).toEqual(objective);
      if (before.objective !== null) expect(compareTiers(objective!, before.objective)).toBeLessThanOrEqual(0);
      expect(compareTiers(bound, objective!)).toBeLessThanOrEqual(0);
      if (status === 'optimal') proved++;
    }
    expect(proved).toBeGreaterThan(SHOPS / 4);
  }, 60_000);

  it('is planned the same again by the same seed and budget', () => {
    const problem = randomShop(80_003);
    const options = { seed: 3, workLimit: 40_000 };
    expect(solve(problem, options)).toEqual(solve(problem, options));
  }, 60_000);
});
