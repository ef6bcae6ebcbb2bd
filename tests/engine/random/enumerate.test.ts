import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { blankProblem, endToStart, work } from './blank-problem.ts';
import { enumerate } from './enumerate.ts';
import { tinyProblem } from './tiny-problem.ts';

const hands = { uses: [{ resource: 0, amount: 100 }] };
const person = { name: 'Ada', capacity: 100, kind: 'person' as const };
const jobs = [{ name: 'car', stays: [], release: 0 }];

describe('enumeration', () => {
  test('finds the shortest day by hand: two tasks of 3 and 4 minutes by one person take 7', () => {
    const operations = [3, 4].map((minutes) => work('task', 0, minutes, { modes: [{ work: minutes, ...hands }] }));
    expect(enumerate(blankProblem({ horizon: 10, resources: [person], jobs, operations }))?.objective).toEqual([7]);
  });

  test('finds that there is none when a window is shorter than what must lie in it', () => {
    const operations = [1, 5, 1].map((minutes) => work('task', 0, minutes));
    const lags = [endToStart(0, 1), endToStart(1, 2), endToStart(0, 2, 0, 4)];
    expect(enumerate(blankProblem({ horizon: 12, jobs, operations, lags }))).toBeNull();
  });
});

describe('tiny problems', () => {
  test('are valid or contradict themselves in their lags, and are solvable often but not always', () => {
    let solvable = 0;
    let valid = 0;
    for (let seed = 0; seed < 30; seed++) {
      const problem = tinyProblem(seed);
      const faults = validate(problem);
      const optimum = enumerate(problem);
      if (faults.length > 0) {
        expect(faults.every((fault) => fault.startsWith('lags: contradict'))).toBe(true);
        expect(optimum).toBeNull();
        continue;
      }
      valid++;
      if (optimum === null) continue;
      solvable++;
      expect(check(problem, optimum.schedule)).toEqual([]);
    }
    expect(valid).toBeGreaterThan(15);
    expect(solvable).toBeGreaterThan(8);
    expect(solvable).toBeLessThan(valid);
  });
});
