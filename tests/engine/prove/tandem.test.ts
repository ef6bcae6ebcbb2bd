import { describe, expect, it } from 'vitest';
import { BAY, bestPlan, lastEnd, oneWorkEach } from './proved-visits.ts';

const BEHIND = { ...BAY, name: 'back', blockedBy: [0] };

describe('a place behind another', () => {
  it('is reached and left only while the other is empty', () => {
    const problem = oneWorkEach([10, 4], [BAY, BEHIND]);
    const [front, back] = problem.stays;
    const stays = [
      { ...front!, places: [0] },
      { ...back!, places: [1] },
    ];
    // The car behind comes before the one in front and leaves after it.
    const plan = bestPlan({ ...problem, stays, tiers: ['makespan', 'lead'] });
    const [inFront, behind] = plan!.stays;
    expect(behind!.from < inFront!.from || behind!.from >= inFront!.to).toBe(true);
    expect(behind!.to < inFront!.from || behind!.to >= inFront!.to).toBe(true);
    expect(lastEnd({ ...problem, stays })).toBe(14);
  });

  it('is not reached past what is taken from outside', () => {
    const problem = oneWorkEach([4], [BAY, BEHIND], { takenPlaces: [{ place: 0, from: 0, to: 7 }] });
    const stays = problem.stays.map((stay) => ({ ...stay, places: [1] }));
    expect(lastEnd({ ...problem, stays })).toBe(11);
  });
});
