import { describe, expect, it } from 'vitest';
import { BAY, bestPlan, lastEnd, oneWorkEach } from './proved-visits.ts';

describe('a place', () => {
  it('holds one car at a time: two cars of 5 and 7 minutes in one bay take 12, in two bays 7', () => {
    expect(lastEnd(oneWorkEach([5, 7], [BAY]))).toBe(12);
    expect(lastEnd(oneWorkEach([5, 7], [BAY, BAY]))).toBe(7);
  });

  it('stands empty for its turnaround between two cars', () => {
    expect(lastEnd(oneWorkEach([5, 7], [{ ...BAY, turnaround: 3 }]))).toBe(15);
  });

  it('takes no car while it is taken from outside, nor within the turnaround of it', () => {
    const taken = { takenPlaces: [{ place: 0, from: 4, to: 10 }] };
    expect(lastEnd(oneWorkEach([5], [{ ...BAY, turnaround: 3 }], taken))).toBe(18);
    // A car of 1 minute has left 3 minutes before.
    expect(lastEnd(oneWorkEach([1], [{ ...BAY, turnaround: 3 }], taken))).toBe(1);
  });

  it('takes cars only while it is open, for the whole of their stay', () => {
    const open = [
      { from: 0, to: 4 },
      { from: 6, to: 8 },
      { from: 8, to: 30 },
    ];
    expect(lastEnd(oneWorkEach([5], [{ ...BAY, open }]))).toBe(11);
    expect(bestPlan(oneWorkEach([25], [{ ...BAY, open }]))).toBeNull();
  });

  it('is not judged for a car that has arrived: it stays until its work is done, and the next one waits', () => {
    const problem = oneWorkEach([5, 2], [BAY], { now: 3 });
    const [first, second] = problem.operations;
    const arrived = { ...first!, fixed: { start: 0, mode: 0, end: 9, by: 'fact' as const } };
    const [stay, other] = problem.stays;
    const stays = [{ ...stay!, fixed: { place: 0, from: 0 } }, other!];
    expect(lastEnd({ ...problem, operations: [arrived, second!], stays })).toBe(11);
  });
});
