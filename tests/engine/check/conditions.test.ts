import { expect, test } from 'vitest';
import type { Operation } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { brokenRules } from './changed.ts';

/** A mode that conditions allow from 100 to 200 and from 300 to 400. */
function broken(start: number, minutes: number, given: Partial<Operation> = {}): string[] {
  const allowed = [
    { from: 100, to: 200 },
    { from: 300, to: 400 },
  ];
  const problem = blankProblem({
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: [work('coat', 0, minutes, { modes: [{ work: minutes, uses: [], allowed }], ...given })],
  });
  return brokenRules(problem, { operations: [{ start, end: start + minutes, mode: 0 }], stays: [] });
}

test.each([
  [100, 100, []],
  [99, 100, ['7 conditions']],
  [101, 100, ['7 conditions']],
  [150, 200, ['7 conditions']],
  [300, 40, []],
  [200, 0, []],
  [250, 0, ['7 conditions']],
])('coating from %i for %i minutes breaks %j', (start, minutes, rules) => {
  expect(broken(start, minutes)).toEqual(rules);
});

test('coating that happened in the cold is a fact', () => {
  expect(broken(50, 20, { fixed: { start: 50, mode: 0, by: 'fact' } })).toEqual([]);
});
