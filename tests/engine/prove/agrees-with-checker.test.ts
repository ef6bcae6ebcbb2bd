import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { Search } from '../../../src/engine/learn/search.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Objective, Schedule } from '../../../src/engine/problem/solution.ts';
import { PlacesFirst } from '../../../src/engine/prove/branching-visits.ts';
import { buildModel, type Model } from '../../../src/engine/prove/model.ts';
import { addObjective, readSchedule } from '../../../src/engine/prove/objective.ts';
import { unprovable } from '../../../src/engine/prove/provable.ts';
import { literalsOf } from '../../../src/engine/prove/replay.ts';
import { solve } from '../../../src/engine/solve.ts';
import { happenedUntil } from '../random/happened.ts';
import { MUTATORS } from '../random/mutations.ts';
import { randomShop } from '../random/random-shop.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { withStandingCosts } from '../random/standing-costs.ts';

const SHOPS = 40;

/** What the prover's model says of plans: refused, or allowed at the objective it reckons. */
class Judge {
  private readonly model: Model | undefined;
  private readonly tiers: readonly number[] = [];
  private readonly search: Search | undefined;

  constructor(problem: Problem) {
    this.model = buildModel(problem, 0.95);
    const { model } = this;
    if (model === undefined) return;
    this.tiers = problem.tiers.map((tier) => addObjective(problem, model, tier));
    model.solver.seal();
    if (model.solver.failed || !model.lags.start() || !model.solver.propagate()) return;
    this.search = new Search(model.solver, new PlacesFirst(model));
  }

  verdict(schedule: Schedule): Objective | 'refused' {
    const { model, search } = this;
    if (model === undefined || search === undefined) return 'refused';
    const literals = literalsOf(model, schedule);
    if (literals === undefined) return 'refused';
    const outcome = search.run({ conflicts: 3000, work: 1e12, stop: () => false }, literals, false);
    expect(outcome).not.toBe('limit');
    if (outcome !== 'solution') return 'refused';
    expect(readSchedule(model)).toEqual(schedule);
    return this.tiers.map((half) => model.solver.bounds.min(half));
  }
}

/** The plan, and plans with one rule broken on purpose, judged by both. */
function compare(problem: Problem, schedule: Schedule, seed: number): { allowed: number; refused: number } {
  const random = seededRandom(seed);
  const mutated = MUTATORS.flatMap((mutate) => mutate(problem, schedule, random)?.plan ?? []);
  const judge = new Judge(problem);
  const count = { allowed: 0, refused: 0 };
  for (const [k, plan] of [schedule, ...mutated].entries()) {
    const [violation] = check(problem, plan);
    const told = `seed ${seed}, plan ${k}: ${violation?.text}`;
    expect(judge.verdict(plan), told).toEqual(violation === undefined ? measure(problem, plan) : 'refused');
    if (violation === undefined) count.allowed++;
    else count.refused++;
  }
  return count;
}

describe("the prover's model of a shop", () => {
  it('allows what the checker allows, at the same objective, and nothing else', () => {
    const count = { allowed: 0, refused: 0 };
    for (let seed = 70_000; seed < 70_000 + SHOPS; seed++) {
      const problem = randomShop(seed);
      const { schedule } = solve(problem, { seed, workLimit: 0 });
      if (schedule === null || unprovable(problem) !== undefined) continue;
      const { allowed, refused } = compare(problem, schedule, seed);
      count.allowed += allowed;
      count.refused += refused;
    }
    expect(count.allowed).toBeGreaterThan(SHOPS / 2);
    expect(count.refused).toBeGreaterThan(5 * SHOPS);
  }, 120_000);

  it('reckons what it costs to stand in places as the checker does', () => {
    const count = { allowed: 0, refused: 0 };
    for (let seed = 72_000; seed < 72_000 + SHOPS / 2; seed++) {
      const problem = withStandingCosts(randomShop(seed));
      const { schedule } = solve(problem, { seed, workLimit: 0 });
      if (schedule === null || unprovable(problem) !== undefined) continue;
      const { allowed, refused } = compare(problem, schedule, seed);
      count.allowed += allowed;
      count.refused += refused;
    }
    expect(count.allowed).toBeGreaterThan(SHOPS / 4);
    expect(count.refused).toBeGreaterThan(SHOPS);
  }, 120_000);

  it('does so when part of the plan has happened and part is frozen', () => {
    const count = { allowed: 0, refused: 0 };
    for (let seed = 71_000; seed < 71_000 + SHOPS; seed++) {
      const before = randomShop(seed);
      const plan = solve(before, { seed, workLimit: 0 }).schedule;
      if (plan === null) continue;
      const random = seededRandom(seed);
      const ends = plan.operations.flatMap((planned) => (planned === null ? [] : [planned.end]));
      const now = Math.max(before.now + 1, random.pick(ends) - random.whole(0, 30));
      const happening = { now, delay: random.whole(0, 2) * 20, frozen: random.whole(0, 3) * 60 };
      const problem = happenedUntil(before, plan, happening);
      const { schedule } = solve(problem, { seed, workLimit: 0, warmStart: plan });
      if (schedule === null || unprovable(problem) !== undefined) continue;
      const { allowed, refused } = compare(problem, schedule, seed);
      count.allowed += allowed;
      count.refused += refused;
    }
    expect(count.allowed).toBeGreaterThan(SHOPS / 4);
    expect(count.refused).toBeGreaterThan(2 * SHOPS);
  }, 120_000);
});
