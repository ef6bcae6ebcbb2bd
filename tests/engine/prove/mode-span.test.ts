import { describe, expect, it } from 'vitest';
import { completion } from '../../../src/engine/check/worked-pieces.ts';
import type { Mode, Operation } from '../../../src/engine/problem/problem.ts';
import { modeSpan } from '../../../src/engine/prove/mode-span.ts';
import { plainProblem } from './a-shop.ts';

const base = plainProblem([{ modes: [{ work: 1, uses: [{ resource: 0, amount: 1 }] }] }], [], [1]);
/** Open in [2, 6) at one unit a minute, and from 9 on at two. */
const problem = { ...base, horizon: 20, progresses: [{ at: [2, 6, 9], rate: [1, 0, 2] }] };
const operation: Operation = problem.operations[0]!;
const mode: Mode = { work: 3, progress: 0, uses: [] };

describe('when a mode can begin and then ends', () => {
  it('unpausable work meets no gap: it begins at 2 or 3, or after 9', () => {
    const span = modeSpan(problem, operation, mode);
    expect([span.next(0), span.next(3), span.next(4)]).toEqual([2, 3, 9]);
    expect([span.end(2), span.end(3), span.end(9)]).toEqual([5, 6, 11]);
  });

  it('pausable work spans the gap, unless the pause is too long or the first piece too short', () => {
    const pausable = { ...operation, pausable: true };
    const span = modeSpan(problem, pausable, mode);
    expect([span.next(4), span.end(4), span.end(5)]).toEqual([4, 10, 10]);
    expect(modeSpan(problem, { ...pausable, longestPause: 2 }, mode).next(4)).toBe(9);
    const withFirstPiece = modeSpan(problem, { ...pausable, leastFirstPiece: 2 }, mode);
    expect([withFirstPiece.next(4), withFirstPiece.next(5)]).toEqual([4, 9]);
  });

  it('work lies inside one stretch of allowed conditions, and within the hours of whom it needs', () => {
    const allowed = modeSpan(problem, operation, { ...mode, allowed: [{ from: 3, to: 13 }] });
    expect([allowed.next(0), allowed.previous(20)]).toEqual([3, 11]);
    const staffed = { ...problem, resources: [{ ...problem.resources[0]!, open: [{ from: 9, to: 14 }] }] };
    const manned = modeSpan(staffed, operation, { ...mode, uses: [{ resource: 0, amount: 1 }] });
    expect([manned.next(0), manned.previous(20)]).toEqual([9, 12]);
  });

  it('ends where the checker, reading the rates on its own, says', () => {
    const span = modeSpan(problem, { ...operation, pausable: true }, mode);
    let compared = 0;
    for (let t = span.next(0); t < 17; t = span.next(t + 1)) {
      expect(span.end(t)).toBe(completion(problem, mode, t));
      compared++;
    }
    expect(compared).toBeGreaterThan(8);
  });
});
