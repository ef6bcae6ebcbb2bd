import { describe, expect, it } from 'vitest';
import { without } from '../../../src/engine/explain/without.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { ConflictPart } from '../../../src/engine/problem/solution.ts';
import { conflictSet } from '../../../src/engine/prove/conflict-set.ts';
import { provable } from '../../../src/engine/prove/provable.ts';
import { solve } from '../../../src/engine/solve.ts';
import { endToStart, hardShop, plainProblem } from './a-shop.ts';
import { hasPlan } from './enumeration.ts';
import { type Flavour, randomProblem } from './random-problem.ts';

const budget = { seed: 1, workLimit: 10_000_000 };
const named = (parts: readonly ConflictPart[]) => parts.map(({ kind, index }) => `${kind} ${index}`).sort();
const on = (resource: number, work: number) => ({ modes: [{ work, uses: [{ resource, amount: 1 }] }] });

/** Enough minutes for these tiny problems to have a plan when only the horizon stood against it. */
const SPARE_MINUTES = 14;

/** Whether the parts can all be kept when everything else is left out, by trying every plan. */
function canKeep(problem: Problem, kept: readonly ConflictPart[], all: readonly ConflictPart[]): boolean {
  const apart: Problem = {
    ...problem,
    tiers: [],
    operations: problem.operations.map((operation) => ({
      ...operation,
      release: Math.max(operation.release ?? 0, problem.jobs[operation.job]!.release),
    })),
    jobs: problem.jobs.map((job) => ({ ...job, release: 0 })),
  };
  const keys = new Set(named(kept));
  const relaxed = without(
    apart,
    all.filter(({ kind, index }) => !keys.has(`${kind} ${index}`)),
  );
  const horizon = Math.min(relaxed.horizon, problem.horizon + SPARE_MINUTES);
  return hasPlan({ ...relaxed, horizon });
}

/** Every part that a plain problem can have, written down here without the code under test. */
function everyPart(problem: Problem): ConflictPart[] {
  const part = (kind: ConflictPart['kind']) => (_: unknown, index: number) => ({ kind, index, text: '' });
  return [
    { kind: 'horizon', index: 0, text: '' },
    ...problem.lags.map(part('lag')),
    ...problem.resources.map(part('resource')),
    ...(['operation', 'release', 'deadline', 'fixed'] as const).flatMap((kind) => problem.operations.map(part(kind))),
  ];
}

describe('the conflict set of a problem that has no plan', () => {
  it('is the three lags that make a positive cycle, and nothing of the rest', () => {
    const problem = plainProblem(
      [on(0, 2), on(1, 3), on(0, 2), on(1, 9)],
      [endToStart(0, 1), endToStart(1, 2), { ...endToStart(0, 2), max: 2 }, endToStart(0, 3)],
      [1, 1],
    );
    const { conflict } = conflictSet(problem, budget);
    expect(named(conflict.parts)).toEqual(['lag 0', 'lag 1', 'lag 2']);
    expect(conflict.minimal).toBe(true);
  });

  it('is a release and a deadline between which the work does not fit', () => {
    const [a, b] = plainProblem([on(0, 4), on(1, 2)], [], [1, 1]).operations;
    const plain = plainProblem([on(0, 4), on(1, 2)], [], [1, 1]);
    const problem = {
      ...plain,
      horizon: 30,
      jobs: [{ ...plain.jobs[0]!, release: 3 }],
      operations: [{ ...a!, deadline: 6 }, b!],
    };
    const { conflict } = conflictSet(problem, budget);
    expect(named(conflict.parts)).toEqual(['deadline 0', 'release 0']);
    expect(conflict.minimal).toBe(true);
    expect(conflict.parts.map(({ text }) => text)).toContain('"o0" of "all" starts no earlier than minute 3.');
  });

  it('is one machine and the two deadlines of the work that wants it at once', () => {
    const plain = plainProblem([on(0, 4), on(0, 4), on(1, 4)], [], [1, 1]);
    const problem = { ...plain, operations: plain.operations.map((each) => ({ ...each, deadline: 6 })) };
    const { conflict } = conflictSet(problem, budget);
    expect(named(conflict.parts)).toEqual(['deadline 0', 'deadline 1', 'resource 0']);
    expect(conflict.minimal).toBe(true);
  });

  it('cannot be kept, and can as soon as any one part is left out, by trying every plan', () => {
    const flavours: readonly (readonly [seeds: number, Flavour])[] = [
      [150, { operations: 3, horizon: 8, modes: false, calendars: false, maximumLags: true, tiers: ['makespan'] }],
      [40, { operations: 3, horizon: 8, modes: true, calendars: true, maximumLags: true, tiers: ['makespan'] }],
    ];
    const sizes = new Set<number>();
    const kinds = new Set<string>();
    let minimal = 0;
    let notMinimal = 0;
    for (const [seeds, flavour] of flavours) {
      for (let seed = 1; seed <= seeds; seed++) {
        const problem = randomProblem(seed, flavour);
        if (!provable(problem) || hasPlan(problem)) continue;
        const { conflict } = conflictSet(problem, budget);
        const all = everyPart(problem);
        const told = `seed ${seed}: ${conflict.parts.map(({ text }) => text).join(' ')}`;
        expect(canKeep(problem, conflict.parts, all), told).toBe(false);
        // Leaving out hours can lead to pauses that free people, which no proof is made for.
        if (!conflict.minimal) {
          expect(flavour.calendars, told).toBe(true);
          notMinimal++;
          continue;
        }
        for (const part of conflict.parts) {
          const others = conflict.parts.filter((each) => each !== part);
          expect(canKeep(problem, others, all), `${told} without: ${part.text}`).toBe(true);
          kinds.add(part.kind);
        }
        sizes.add(conflict.parts.length);
        minimal++;
      }
    }
    expect(minimal).toBeGreaterThan(20 * notMinimal);
    expect(sizes.size).toBeGreaterThan(2);
    for (const kind of ['lag', 'resource', 'release', 'deadline', 'horizon', 'fixed']) expect(kinds).toContain(kind);
  });

  it('comes with the proof when a plain problem is solved', () => {
    const lags = [endToStart(0, 1), { ...endToStart(0, 1), min: -9, max: -1 }];
    const problem = plainProblem([on(0, 2), on(1, 3), on(0, 2)], lags, [1, 1]);
    const { status, schedule, conflict, interrupted } = solve(problem, budget);
    expect([status, schedule, interrupted]).toEqual(['infeasible', null, false]);
    expect(named(conflict!.parts)).toEqual(['lag 0', 'lag 1']);
    expect(conflict!.minimal).toBe(true);
    expect(solve(problem, { ...budget, cancelled: () => true }).interrupted).toBe(true);
  });

  it('is not called minimal when the budget ends before that is seen, and holds even so', () => {
    const shop = hardShop();
    const problem = { ...shop, horizon: 500 };
    const { conflict } = conflictSet(problem, { seed: 1, workLimit: 1000 });
    expect(conflict.minimal).toBe(false);
    expect(conflict.parts.length).toBeGreaterThan(100);
    const cancelled = conflictSet(problem, { seed: 1, workLimit: 1e9, cancelled: () => true });
    expect(cancelled.conflict.minimal).toBe(false);
    expect(cancelled.work).toBe(0);
  });
});
