import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { asProject } from '../../../src/engine/prove/project.ts';
import { ProjectGenetic } from '../../../src/engine/prove/project-genetic.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { SeededRandom } from '../../../src/engine/prove/seeded-random.ts';
import { endToStart, plainProblem } from './a-shop.ts';
import { Dice } from './random-problem.ts';

function randomProject(seed: number): Problem {
  const dice = new Dice(seed);
  const operations = Array.from({ length: 18 }, () => {
    const uses = [0, 1].map((resource) => ({ resource, amount: dice.below(4) }));
    return { modes: [{ work: 1 + dice.below(8), uses }] };
  });
  const lags = operations.flatMap((_, k) => (k < 3 ? [] : [endToStart(dice.below(k), k, dice.below(2))]));
  return plainProblem(operations, lags, [4, 5]);
}

const never = () => false;

describe('genetic search for projects', () => {
  it('makes plans that obey every rule, close to the best', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const problem = randomProject(seed);
      const genetic = new ProjectGenetic(asProject(problem)!, new SeededRandom(seed));
      genetic.run(150_000, 0, never);
      const schedule = genetic.schedule();
      expect(check(problem, schedule)).toEqual([]);
      expect(measure(problem, schedule)).toEqual([genetic.makespan]);
      const best = prove(problem, { seed, workLimit: 1e8 }).objective![0]!;
      expect(genetic.makespan).toBeGreaterThanOrEqual(best);
      expect(genetic.makespan).toBeLessThanOrEqual(best * 1.03);
    }
  });

  it('repeats itself for a seed, and goes on from a plan it is given', () => {
    const problem = randomProject(2);
    const project = asProject(problem)!;
    const runs = [0, 1].map(() => {
      const genetic = new ProjectGenetic(project, new SeededRandom(7));
      genetic.run(50_000, 0, never);
      return genetic;
    });
    expect(runs[0]!.schedule()).toEqual(runs[1]!.schedule());
    const other = new ProjectGenetic(project, new SeededRandom(8));
    other.adopt(runs[0]!.schedule());
    expect(other.makespan).toBeLessThanOrEqual(runs[0]!.makespan);
  });

  it('a proof keeps no plan of it that runs past the horizon', () => {
    const problem = randomProject(4);
    const best = prove(problem, { seed: 1, workLimit: 1e8 }).objective![0]!;
    expect(prove({ ...problem, horizon: best }, { seed: 1, workLimit: 1e8 }).objective).toEqual([best]);
    expect(prove({ ...problem, horizon: best - 1 }, { seed: 1, workLimit: 1e8 }).status).toBe('infeasible');
  });

  it('declines milestones that follow one another in a circle, which a proof still takes', () => {
    const milestone = { modes: [{ work: 0, uses: [] }] };
    const work = { modes: [{ work: 3, uses: [] }] };
    const circle = plainProblem(
      [milestone, milestone, work],
      [endToStart(0, 1), endToStart(1, 0), endToStart(2, 0)],
      [1],
    );
    expect(asProject(circle)).toBeUndefined();
    expect(prove(circle, { seed: 1, workLimit: 1e6 }).objective).toEqual([3]);
  });

  it('declines what is no such project: a maximum lag, a choice of modes', () => {
    const problem = randomProject(1);
    expect(asProject(problem)).toBeDefined();
    expect(asProject({ ...problem, lags: [{ ...problem.lags[0]!, max: 9 }] })).toBeUndefined();
    const [first, ...rest] = problem.operations;
    const twice = { ...first!, modes: [first!.modes[0]!, first!.modes[0]!] };
    expect(asProject({ ...problem, operations: [twice, ...rest] })).toBeUndefined();
  });
});
