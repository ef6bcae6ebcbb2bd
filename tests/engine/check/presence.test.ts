import { describe, expect, test } from 'vitest';
import type { Operation } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { brokenRules } from './changed.ts';

/** Lamps (0), or waiting (1, 2); 3 is always done, 4 is optional and nobody's. */
function shop(given: Record<number, Partial<Operation>> = {}) {
  const names = ['lamps', 'wait', 'check', 'inspect', 'extra'];
  return blankProblem({
    now: 50,
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: names.map((name, o) => work(name, 0, 10, { presence: o === 3 ? 'always' : 'optional', ...given[o] })),
    branches: [{ name: 'cure', alternatives: [[0], [1, 2]] }],
  });
}

const present = (...operations: number[]) => ({
  operations: [0, 1, 2, 3, 4].map((o) => (operations.includes(o) ? { start: 60, end: 70, mode: 0 } : null)),
  stays: [],
});

describe('a branch', () => {
  test.each([
    [[0, 3], []],
    [[1, 2, 3], []],
    [[3], ['1 branch']],
    [[1, 3], ['1 branch']],
    [[0, 1, 2, 3], ['1 branch']],
    [[0, 1, 3], ['1 branch']],
  ])('with %j present breaks %j', (operations, rules) => {
    expect(brokenRules(shop(), present(...operations))).toEqual(rules);
  });

  test('lets facts of the bundle not taken stand', () => {
    const problem = shop({ 1: { fixed: { start: 60, end: 70, mode: 0, by: 'fact' } } });
    expect(brokenRules(problem, present(0, 1, 3))).toEqual([]);
    expect(brokenRules(problem, present(1, 3))).toEqual(['1 branch']);
  });

  test('with an empty alternative may do nothing', () => {
    const problem = { ...shop(), branches: [{ name: 'second pass', alternatives: [[], [0]] }] };
    expect(brokenRules(problem, present(3))).toEqual([]);
  });
});

describe('work', () => {
  test('that is always done is missed', () => {
    expect(brokenRules(shop(), present(0))).toEqual(['1 missing']);
  });

  test('that nothing demands is not planned', () => {
    expect(brokenRules(shop(), present(0, 3, 4))).toEqual(['1 undemanded']);
  });

  test('that has happened is there though nothing demanded it', () => {
    const problem = shop({ 4: { fixed: { start: 60, end: 70, mode: 0, by: 'fact' } } });
    expect(brokenRules(problem, present(0, 3, 4))).toEqual([]);
    expect(brokenRules(problem, present(0, 3))).toEqual(['8 fixed-missing']);
  });
});
