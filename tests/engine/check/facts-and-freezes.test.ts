import { describe, expect, test } from 'vitest';
import type { Fixed } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { brokenRules } from './changed.ts';

const modes = [
  { work: 20, uses: [] },
  { work: 10, uses: [] },
];

function broken(fixed: Fixed | undefined, start: number, end: number, mode: number, now = 100): string[] {
  const problem = blankProblem({
    now,
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: [work('wash', 0, 20, { modes, ...(fixed ? { fixed } : {}) })],
  });
  return brokenRules(problem, { operations: [{ start, end, mode }], stays: [] });
}

describe('what has started', () => {
  const underWay: Fixed = { start: 90, mode: 0, by: 'fact' };

  test.each([
    ['stays as it is', underWay, 90, 110, 0, []],
    ['does not start later', underWay, 95, 110, 0, ['8 fixed-start']],
    ['is not done another way', underWay, 90, 110, 1, ['8 fixed-mode']],
    ['does not end by wish', underWay, 90, 105, 0, ['8 fixed-end']],
    ['ends when it is said to end', { ...underWay, end: 130 }, 90, 130, 0, []],
    ['ends no other time than it is said to', { ...underWay, end: 130 }, 90, 110, 0, ['8 fixed-end']],
  ] as [string, Fixed, number, number, number, string[]][])('%s', (_, fixed, start, end, mode, rules) => {
    expect(broken(fixed, start, end, mode)).toEqual(rules);
  });
});

describe('what is frozen', () => {
  test.each([
    ['keeps its start and may leave its mode open', { start: 200, by: 'frozen' }, 200, 210, 1, []],
    ['is not moved', { start: 200, by: 'frozen' }, 201, 211, 1, ['8 fixed-start']],
    ['keeps its mode when that is frozen, too', { start: 200, mode: 0, by: 'frozen' }, 200, 210, 1, ['8 fixed-mode']],
    ['is not in the past', { start: 99, by: 'frozen' }, 99, 109, 1, ['8 past']],
  ] as [string, Fixed, number, number, number, string[]][])('%s', (_, fixed, start, end, mode, rules) => {
    expect(broken(fixed, start, end, mode)).toEqual(rules);
  });

  test('is nothing else: other work starts from now on', () => {
    expect(broken(undefined, 99, 119, 0)).toEqual(['8 past']);
    expect(broken(undefined, 100, 120, 0)).toEqual([]);
  });
});

describe('a car', () => {
  const parked = (
    fixed: { place: number; from?: number } | undefined,
    planned: { place: number; from: number; to: number },
  ) =>
    brokenRules(
      blankProblem({
        now: 100,
        places: ['wet bay', 'clean bay'].map((name) => ({ name, turnaround: 0, blockedBy: [] })),
        jobs: [{ name: 'car', stays: [0], release: 0 }],
        stays: [{ job: 0, places: [0, 1], optional: false, ...(fixed ? { fixed } : {}) }],
      }),
      { operations: [], stays: [planned] },
    );

  test('is where it is, and has been there since it came', () => {
    expect(parked({ place: 1, from: 50 }, { place: 1, from: 50, to: 200 })).toEqual([]);
    expect(parked({ place: 1, from: 50 }, { place: 0, from: 50, to: 200 })).toEqual(['8 fixed-place']);
    expect(parked({ place: 1, from: 50 }, { place: 1, from: 60, to: 200 })).toEqual(['8 fixed-arrival']);
  });

  test('arrives from now on when it has not arrived', () => {
    expect(parked(undefined, { place: 1, from: 99, to: 200 })).toEqual(['8 past']);
    expect(parked({ place: 1 }, { place: 1, from: 99, to: 200 })).toEqual(['8 past']);
  });
});
