import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import { happenedUntil } from './happened.ts';
import { randomShop } from './random-shop.ts';
import { seededRandom } from './seeded-random.ts';

const SHOPS = 300;

const rulesBroken = (problem: Parameters<typeof check>[0], schedule: Parameters<typeof check>[1]) =>
  check(problem, schedule).map(({ invariant, rule, text }) => `${invariant} ${rule}: ${text}`);

describe('a shop in the middle of its plan', () => {
  test('still has a plan that obeys every rule when all has gone as planned: the same plan, at no change', () => {
    const random = seededRandom(21);
    let facts = 0;
    for (let seed = 0; seed < SHOPS; seed++) {
      const problem = randomShop(120_000 + seed);
      const { schedule } = solve(problem, { seed, workLimit: 0 });
      if (schedule === null || check(problem, schedule).length > 0) continue;
      const later = happenedUntil(problem, schedule, {
        now: problem.now + random.whole(1, 3000),
        frozen: random.pick([0, 120, 480]),
      });
      facts += later.operations.filter(({ fixed }) => fixed?.by === 'fact').length;
      expect(validate(later)).toEqual([]);
      expect(rulesBroken(later, schedule), `seed ${seed}`).toEqual([]);
      expect(measure(later, schedule).at(-1)).toBe(0);
    }
    expect(facts).toBeGreaterThan(10 * SHOPS);
  }, 240_000);

  test('gets a plan that obeys every rule when work under way takes longer', () => {
    const random = seededRandom(22);
    const wrong: string[] = [];
    let asked = 0;
    let replanned = 0;
    for (let seed = 0; seed < SHOPS; seed++) {
      const problem = randomShop(120_000 + seed);
      const before = solve(problem, { seed, workLimit: 0 }).schedule;
      if (before === null || check(problem, before).length > 0) continue;
      asked++;
      const later = happenedUntil(problem, before, {
        now: problem.now + random.whole(1, 3000),
        delay: random.whole(5, 90),
      });
      const { schedule, objective } = solve(later, { seed, workLimit: 0, warmStart: before });
      if (schedule === null) continue;
      replanned++;
      wrong.push(...rulesBroken(later, schedule).map((text) => `seed ${seed}: ${text}`));
      if (measure(later, schedule).join() !== objective!.join()) wrong.push(`seed ${seed}: objective`);
    }
    console.log(`${replanned} of ${asked} delayed shops replanned.`);
    expect(wrong.slice(0, 10)).toEqual([]);
    expect(replanned).toBeGreaterThan(asked * 0.9);
  }, 240_000);

  test('gets a plan from scratch that obeys every rule and keeps what is frozen, there being one', () => {
    const random = seededRandom(23);
    const wrong: string[] = [];
    let asked = 0;
    let replanned = 0;
    for (let seed = 0; seed < SHOPS; seed++) {
      const problem = randomShop(120_000 + seed);
      const before = solve(problem, { seed, workLimit: 0 }).schedule;
      if (before === null || check(problem, before).length > 0) continue;
      asked++;
      const later = happenedUntil(problem, before, { now: problem.now + random.whole(1, 3000), frozen: 240 });
      const { schedule } = solve(later, { seed, workLimit: 0 });
      if (schedule === null) continue;
      replanned++;
      wrong.push(...rulesBroken(later, schedule).map((text) => `seed ${seed}: ${text}`));
    }
    console.log(`${replanned} of ${asked} shops with frozen hours planned from scratch.`);
    expect(wrong.slice(0, 10)).toEqual([]);
    expect(replanned).toBeGreaterThan(asked * 0.8);
  }, 240_000);
});
