import type { Edge, Lag, Mode, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import { blankProblem } from './blank-problem.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';

/**
 * A plain problem small enough to enumerate, a pure function of its seed: three or four operations of one or two modes,
 * one or two resources, hours with a gap, lags of both signs with and without maxima, a remedy or a branch now and then.
 * About a third have no schedule.
 */
export function tinyProblem(seed: number): Problem {
  const random = seededRandom(seed);
  const horizon = random.whole(9, 14);
  const resources = [
    { name: 'person', capacity: 100, kind: 'person' as const },
    { name: 'lamp', capacity: 2, kind: 'equipment' as const },
  ];
  const gap = random.whole(2, horizon - 4);
  const progresses = [
    { at: [0, gap, gap + random.whole(1, 3)], rate: [1, 0, 1] },
    { at: [0, gap], rate: [2, 1] },
  ];
  const count = random.whole(3, 4);
  const operations = Array.from({ length: count }, (_, o) => tinyOperation(o, random, horizon));
  const lags: Lag[] = [];
  for (let k = random.whole(1, 4); k > 0; k--) lags.push(tinyLag(random, count));
  const branches: Problem['branches'][number][] = [];
  if (random.chance(0.25)) {
    operations.push({ ...tinyOperation(count, random, horizon), name: 'remedy', presence: 'optional' });
    lags.push(
      { ...endToStart(0, 1, 0, random.whole(0, 2)), remedy: [count] },
      endToStart(0, count, 0),
      endToStart(count, 1, 0),
    );
  } else if (random.chance(0.3)) {
    for (const k of [0, 1]) {
      operations.push({ ...tinyOperation(count + k, random, horizon), name: `way ${k}`, presence: 'optional' });
      lags.push(endToStart(0, count + k, 0));
    }
    branches.push({ name: 'ways', alternatives: [[count], [count + 1]] });
  }
  return blankProblem({
    horizon,
    progresses,
    resources,
    jobs: [{ name: 'car', stays: [], release: 0, ready: count - 1, due: { at: random.whole(3, 9), weight: 2 } }],
    operations,
    lags,
    branches,
    tiers: random.pick([['makespan'], ['tardiness', 'makespan'], ['lead', 'makespan']]),
  });
}

function endToStart(before: number, after: number, min: number, max?: number): Lag {
  const ends = { from: { operation: before, edge: 'end' as Edge }, to: { operation: after, edge: 'start' as Edge } };
  return { ...ends, min, ...(max === undefined ? {} : { max }) };
}

function tinyOperation(o: number, random: SeededRandom, horizon: number): Operation {
  const pausable = random.chance(0.3);
  return {
    name: `operation ${o}`,
    job: 0,
    modes: Array.from({ length: random.whole(1, 2) }, (): Mode => tinyMode(random)),
    pausable,
    presence: 'always',
    ...(pausable && random.chance(0.5) ? { longestPause: random.whole(1, 2) } : {}),
    ...(pausable && random.chance(0.3) ? { leastFirstPiece: 2 } : {}),
    ...(random.chance(0.2) ? { release: random.whole(1, 3) } : {}),
    ...(random.chance(0.2) ? { deadline: random.whole(horizon - 4, horizon) } : {}),
  };
}

function tinyMode(random: SeededRandom): Mode {
  const uses = random.pick([
    [{ resource: 0, amount: 100 }],
    [{ resource: 0, amount: 50 }],
    [{ resource: 1, amount: random.whole(1, 2) }],
    [
      { resource: 0, amount: 50 },
      { resource: 1, amount: 1 },
    ],
  ]);
  const work = random.chance(0.1) ? 0 : random.whole(1, 3);
  return { work, uses, ...(random.chance(0.5) ? { progress: random.whole(0, 1) } : {}) };
}

function tinyLag(random: SeededRandom, count: number): Lag {
  const one = random.whole(0, count - 2);
  const other = random.whole(one + 1, count - 1);
  const min = random.whole(-2, 2);
  return {
    from: { operation: one, edge: random.pick(['start', 'end']) },
    to: { operation: other, edge: random.pick(['start', 'end']) },
    min,
    ...(random.chance(0.5) ? { max: min + random.whole(0, 3) } : {}),
  };
}
