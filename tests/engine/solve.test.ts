import { describe, expect, test } from 'vitest';
import { check } from '../../src/engine/check/check.ts';
import { measure } from '../../src/engine/check/objective.ts';
import type { Problem } from '../../src/engine/problem/problem.ts';
import { solve } from '../../src/engine/solve.ts';
import { asOf } from '../bench/books/as-of.ts';
import { makeBook } from '../bench/books/book.ts';
import { blankProblem, work } from './random/blank-problem.ts';
import { randomShop } from './random/random-shop.ts';

const size = { jobs: 12, bays: 4, people: 5 };

function obeys(problem: Problem, seed: number, workLimit: number) {
  const solution = solve(problem, { seed, workLimit });
  expect(solution.schedule).not.toBeNull();
  expect(check(problem, solution.schedule!)).toEqual([]);
  expect(measure(problem, solution.schedule!)).toEqual(solution.objective);
  for (const [tier, bound] of solution.bound.entries()) expect(bound).toBeLessThanOrEqual(solution.objective![tier]!);
  return solution;
}

describe('a book of coating jobs', () => {
  test('is planned whole, obeys every rule, and costs what the solver says', () => {
    for (let seed = 1; seed <= 3; seed++) obeys(makeBook({ seed, ...size }), seed, 20_000);
  });

  test('gets the same plan from the same seed and work budget', () => {
    const problem = makeBook({ seed: 4, ...size });
    const one = solve(problem, { seed: 9, workLimit: 60_000 });
    const other = solve(problem, { seed: 9, workLimit: 60_000 });
    expect(other).toEqual(one);
    expect(one.interrupted).toBe(false);
  });

  test('gets a plan no worse, and told in order, for more work', () => {
    const problem = makeBook({ seed: 5, ...size });
    const told: (readonly number[])[] = [];
    const { objective } = solve(problem, {
      seed: 1,
      workLimit: 300_000,
      onProgress: (progress) => {
        expect(check(problem, progress.schedule)).toEqual([]);
        told.push(progress.objective);
      },
    });
    expect(told.length).toBeGreaterThan(1);
    for (let k = 1; k < told.length; k++) {
      const tier = told[k]!.findIndex((value, t) => value !== told[k - 1]![t]);
      expect(told[k]![tier]).toBeLessThan(told[k - 1]![tier]!);
    }
    expect(told.at(-1)).toEqual(objective);
  });

  test('gives up when the clock says so, and says that it was interrupted', () => {
    let minute = 0;
    const clock = () => minute++;
    const solution = solve(makeBook({ seed: 6, ...size }), {
      seed: 1,
      workLimit: Number.MAX_SAFE_INTEGER,
      timeLimitMs: 25,
      clock,
    });
    expect(solution.interrupted).toBe(true);
    expect(solution.schedule).not.toBeNull();
  });
});

describe('replanning', () => {
  test('keeps what happened, plans on from there, and never fails because work took longer', () => {
    for (let seed = 1; seed <= 3; seed++) {
      const problem = makeBook({ seed, ...size });
      const { schedule } = solve(problem, { seed, workLimit: 0 });
      const last = Math.max(...schedule!.operations.map((planned) => planned?.end ?? 0));
      for (const part of [0.1, 0.3, 0.5, 0.7, 0.9]) {
        const later = asOf(problem, schedule!, Math.round(last * part), 45);
        const again = solve(later, { seed, workLimit: 5000, warmStart: schedule! });
        expect(again.schedule).not.toBeNull();
        expect(check(later, again.schedule!)).toEqual([]);
        for (const [o, { fixed }] of later.operations.entries()) {
          if (fixed?.by === 'fact') expect(again.schedule!.operations[o]!.start).toBe(fixed.start);
        }
      }
    }
  });

  test('changes nothing when everything went as planned and no plan is better', () => {
    const problem = makeBook({ seed: 2, ...size });
    const { schedule } = solve(problem, { seed: 1, workLimit: 20_000 });
    const later = asOf(problem, schedule!, 3000);
    const { objective } = solve(later, { seed: 1, workLimit: 0, warmStart: schedule! });
    expect(objective!.at(-1)).toBe(0);
  });

  test('of random shops in the middle of their day obeys every rule', () => {
    let replanned = 0;
    for (let seed = 0; seed < 60; seed++) {
      const problem = randomShop(seed);
      const { schedule } = solve(problem, { seed, workLimit: 0 });
      if (schedule === null) continue;
      const later = asOf(problem, schedule, problem.now + 200 + 60 * (seed % 20), 15 * (seed % 3));
      const again = solve(later, { seed, workLimit: 300, warmStart: schedule });
      if (again.schedule === null) continue;
      replanned++;
      expect(check(later, again.schedule)).toEqual([]);
    }
    expect(replanned).toBeGreaterThan(50);
  });
});

describe('a job that does not fit', () => {
  const bay = { name: 'bay', turnaround: 0, blockedBy: [] };

  test('is proved impossible when its work alone outlasts the horizon', () => {
    const problem = blankProblem({
      horizon: 100,
      places: [bay],
      jobs: [{ name: 'car', stays: [0], release: 50 }],
      stays: [{ job: 0, places: [0], optional: false }],
      operations: [work('polish', 0, 60, { stay: 0 })],
    });
    const { status, schedule, conflict } = solve(problem, { seed: 1, workLimit: 1000 });
    expect(status).toBe('infeasible');
    expect(schedule).toBeNull();
    expect(conflict!.parts[0]).toMatchObject({ kind: 'deadline', index: 0 });
    expect(conflict!.parts[0]!.text).toContain('polish');
  });

  test('is named, with the place that was not free, when others leave no room', () => {
    const problem = blankProblem({
      horizon: 100,
      places: [bay],
      jobs: [{ name: 'car', stays: [0], release: 0 }],
      stays: [{ job: 0, places: [0], optional: false }],
      operations: [work('polish', 0, 60, { stay: 0 })],
      takenPlaces: [{ place: 0, from: 50, to: 100 }],
    });
    const { status, conflict } = solve(problem, { seed: 1, workLimit: 1000 });
    expect(status).toBe('unknown');
    expect(conflict!.parts.map(({ text }) => text).join()).toContain('bay');
    expect(conflict!.parts.map(({ text }) => text).join()).toContain('car');
  });
});
