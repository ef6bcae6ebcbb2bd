import { describe, expect, test } from 'vitest';
import type { Operation } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { brokenRules } from './changed.ts';

/** Hours 0-100 and 160-260. */
const progresses = [{ at: [0, 100, 160, 260], rate: [1, 0, 1, 0] }];

function broken(minutes: number, start: number, end: number, given: Partial<Operation>): string[] {
  const modes = [{ work: minutes, progress: 0, uses: [] }];
  const problem = blankProblem({
    progresses,
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: [work('polish', 0, minutes, { modes, ...given })],
  });
  return brokenRules(problem, { operations: [{ start, end, mode: 0 }], stays: [] });
}

describe('work across a gap of 60 minutes', () => {
  test.each([
    ['fits before it', 20, 80, 100, {}, []],
    ['is interrupted and may not be', 30, 80, 170, {}, ['4 pause']],
    ['is interrupted and may be', 30, 80, 170, { pausable: true }, []],
    ['pauses just as long as it may', 30, 80, 170, { pausable: true, longestPause: 60 }, []],
    ['pauses a minute too long', 30, 80, 170, { pausable: true, longestPause: 59 }, ['4 longest-pause']],
    ['works long enough before it', 30, 80, 170, { pausable: true, leastFirstPiece: 20 }, []],
    ['works a minute too little before it', 30, 80, 170, { pausable: true, leastFirstPiece: 21 }, ['4 first-piece']],
    ['needs no first piece when it does not pause', 10, 80, 90, { pausable: true, leastFirstPiece: 21 }, []],
    ['starts when nobody is there', 30, 120, 190, { pausable: true }, ['4 start-closed']],
    ['ends too early', 30, 80, 169, { pausable: true }, ['4 end']],
    ['ends too late', 20, 80, 101, {}, ['4 end']],
    ['never ends', 201, 0, 260, { pausable: true }, ['4 end']],
    ['is a milestone in the dark', 0, 120, 120, {}, []],
    ['happened as a fact', 30, 80, 110, { fixed: { start: 80, end: 110, mode: 0, by: 'fact' } }, []],
    ['is frozen and still judged', 30, 80, 170, { fixed: { start: 80, by: 'frozen' } }, ['4 pause']],
  ] as [string, number, number, number, Partial<Operation>, string[]][])(
    'that %s',
    (_, minutes, start, end, given, rules) => {
      expect(broken(minutes, start, end, given)).toEqual(rules);
    },
  );
});
