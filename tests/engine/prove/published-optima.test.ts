import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { readJobShop, readProject, readProjectWithTimeLags } from '../../bench/engine/instance-readers.ts';

function expectOptimum(problem: Problem, makespan: number): void {
  const solution = prove(problem, { seed: 1, workLimit: 1e9 });
  expect(solution.status).toBe('optimal');
  expect(solution.objective).toEqual([makespan]);
  expect(solution.bound).toEqual([makespan]);
  expect(check(problem, solution.schedule!)).toEqual([]);
}

/** Lawrence 1984, "Resource constrained project scheduling", the first five instances: 10 jobs on 5 machines. */
const lawrence: readonly (readonly [string, number, string])[] = [
  [
    'la01',
    666,
    `10 5
1 21 0 53 4 95 3 55 2 34
0 21 3 52 4 16 2 26 1 71
3 39 4 98 1 42 2 31 0 12
1 77 0 55 4 79 2 66 3 77
0 83 3 34 2 64 1 19 4 37
1 54 2 43 4 79 0 92 3 62
3 69 4 77 1 87 2 87 0 93
2 38 0 60 1 41 3 24 4 83
3 17 1 49 4 25 0 44 2 98
4 77 3 79 2 43 1 75 0 96`,
  ],
  [
    'la02',
    655,
    `10 5
0 20 3 87 1 31 4 76 2 17
4 25 2 32 0 24 1 18 3 81
1 72 2 23 4 28 0 58 3 99
2 86 1 76 4 97 0 45 3 90
4 27 0 42 3 48 2 17 1 46
1 67 0 98 4 48 3 27 2 62
4 28 1 12 3 19 0 80 2 50
1 63 0 94 2 98 3 50 4 80
4 14 0 75 2 50 1 41 3 55
4 72 2 18 1 37 3 79 0 61`,
  ],
  [
    'la03',
    597,
    `10 5
1 23 2 45 0 82 4 84 3 38
2 21 1 29 0 18 4 41 3 50
2 38 3 54 4 16 0 52 1 52
4 37 0 54 2 74 1 62 3 57
4 57 0 81 1 61 3 68 2 30
4 81 0 79 1 89 2 89 3 11
3 33 2 20 0 91 4 20 1 66
4 24 1 84 0 32 2 55 3 8
4 56 0 7 3 54 2 64 1 39
4 40 1 83 0 19 2 8 3 7`,
  ],
  [
    'la04',
    590,
    `10 5
0 12 2 94 3 92 4 91 1 7
1 19 3 11 4 66 2 21 0 87
1 14 0 75 3 13 4 16 2 20
2 95 4 66 0 7 3 7 1 77
1 45 3 6 4 89 0 15 2 34
3 77 2 20 0 76 4 88 1 53
2 74 1 88 0 52 3 27 4 9
1 88 3 69 0 62 4 98 2 52
2 61 4 9 0 62 1 52 3 90
2 54 4 5 3 59 1 15 0 88`,
  ],
  [
    'la05',
    593,
    `10 5
1 72 0 87 4 95 2 66 3 60
4 5 3 35 0 48 2 39 1 54
1 46 3 20 2 21 0 97 4 55
0 59 3 19 4 46 1 34 2 37
4 23 2 73 3 25 1 24 0 28
3 28 0 45 4 5 1 78 2 83
0 53 3 71 1 37 4 29 2 12
4 12 2 87 3 33 1 55 0 38
2 49 3 83 1 40 0 48 4 7
2 65 3 17 0 90 4 27 1 23`,
  ],
];

describe('published optima of job shops', () => {
  it('6 jobs on 6 machines take 55 (Fisher and Thompson 1963)', () => {
    expectOptimum(
      readJobShop(`6 6
2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1`),
      55,
    );
  });

  for (const [name, makespan, text] of lawrence) {
    it(`${name}: 10 jobs on 5 machines take ${makespan} (Lawrence 1984)`, () => {
      expectOptimum(readJobShop(text), makespan);
    });
  }
});

describe('projects worked out by hand', () => {
  // A six-activity example of the form used in the literature on projects (Kolisch and Hartmann 1999; figures from memory).
  // Durations 3 4 2 2 1 4, demands 2 3 4 4 3 2 of 4. Only activities 1 and 6 fit side by side, for at most 3 minutes, so
  // 16 minutes of work take at least 13; the order 2, 4, 1 beside 6, 3, 5 takes 13.
  it('six activities on one resource take 13', () => {
    const row = (id: number, ...after: number[]) => `${id} 1 ${after.length} ${after.join(' ')}`;
    const text = [
      'PRECEDENCE RELATIONS:',
      row(1, 2, 3),
      row(2, 4),
      row(3, 5),
      row(4, 6),
      row(5, 7),
      row(6, 8),
      row(7, 8),
      row(8),
      '****',
      'REQUESTS/DURATIONS:',
      '1 1 0 0',
      '2 1 3 2',
      '3 1 4 3',
      '4 1 2 4',
      '5 1 2 4',
      '6 1 1 3',
      '7 1 4 2',
      '8 1 0 0',
      '****',
      'RESOURCEAVAILABILITIES:',
      '4',
      '****',
    ].join('\n');
    expectOptimum(readProject(text), 13);
  });

  /** Two cars, two coats of 4 and 2 minutes each in one bay; the second coat starts 1 to `latest` minutes after the first. */
  const twoCoats = (latest: number) =>
    [
      '4 1 0 0',
      '0 1 2 1 3 [0] [0]',
      '1 1 1 2 [5]',
      `2 1 2 1 5 [${-(4 + latest)}] [2]`,
      '3 1 1 4 [5]',
      `4 1 2 3 5 [${-(4 + latest)}] [2]`,
      '5 1 0',
      '0 1 0 0',
      '1 1 4 1',
      '2 1 2 1',
      '3 1 4 1',
      '4 1 2 1',
      '5 1 0 0',
      '1',
    ].join('\n');

  it('a recoat window shorter than the other first coat keeps the cars one after another: 14', () => {
    expectOptimum(readProjectWithTimeLags(twoCoats(3)), 14);
  });

  it('a recoat window that lets the other first coat in between saves both waits: 12', () => {
    expectOptimum(readProjectWithTimeLags(twoCoats(4)), 12);
  });

  it('a window that closes before the surface may be touched has no plan', () => {
    const solution = prove(readProjectWithTimeLags(twoCoats(0)), { seed: 1, workLimit: 1e9 });
    expect(solution.status).toBe('infeasible');
    expect(solution.schedule).toBeNull();
  });
});
