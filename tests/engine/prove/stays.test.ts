import { describe, expect, it } from 'vitest';
import { endToStart } from '../random/blank-problem.ts';
import { BAY, bestPlan, lastEnd, plainWork, washedAndPolished } from './proved-visits.ts';

describe('a car', () => {
  it('is always in one place: washed until 4, moved until 5, polished until 10', () => {
    const plan = bestPlan(washedAndPolished(4, 5));
    expect(plan!.stays).toEqual([
      { place: 0, from: 0, to: 5 },
      { place: 1, from: 5, to: 10 },
    ]);
    expect(plan!.operations[2]).toEqual({ start: 4, end: 5, mode: 0 });
  });

  it('is not moved when it stays where it is', () => {
    const problem = washedAndPolished(4, 5);
    const stays = problem.stays.map((stay) => ({ ...stay, places: [0] }));
    const plan = bestPlan({ ...problem, stays });
    expect(plan!.operations[2]).toBeNull();
    expect(plan!.operations[1]!.end).toBe(9);
  });

  it('cannot change place without a move', () => {
    const problem = washedAndPolished(4, 5);
    const stays = problem.stays.map(({ job, places, optional }) => ({ job, places, optional }));
    expect(bestPlan({ ...problem, stays })).toBeNull();
  });

  it('holds its place until it has moved to the next: two cars in two bays cannot swap without a third', () => {
    const one = washedAndPolished(4, 5);
    const other = washedAndPolished(4, 5);
    const turned = other.stays.map(({ places, ...stay }) => ({ ...stay, job: 1, places: [1 - places[0]!] }));
    const problem = {
      ...one,
      jobs: [one.jobs[0]!, { ...one.jobs[0]!, name: 'other', stays: [2, 3], arrival: 3, handover: 4 }],
      stays: [...one.stays, turned[0]!, { ...turned[1]!, move: 5 }],
      operations: [
        ...one.operations,
        plainWork('wash', 1, 4, { stay: 2 }),
        plainWork('polish', 1, 5, { stay: 3 }),
        plainWork('move', 1, 1, { presence: 'optional' as const }),
      ],
      lags: [...one.lags, endToStart(3, 4)],
    };
    // One after the other: the second car comes when the first has gone.
    expect(lastEnd(problem)).toBe(20);
    // With a third place to step aside to, both are at work at once.
    const aside = { ...problem, places: [...problem.places, BAY] };
    const withAside = aside.stays.map((stay, s) => (s === 1 ? { ...stay, places: [1, 2] } : stay));
    expect(lastEnd({ ...aside, stays: withAside })).toBeLessThan(20);
  });

  it('leaves out a stay that nothing needs, and takes it when its work is there', () => {
    const problem = washedAndPolished(4, 5);
    const [first, second] = problem.stays;
    const stays = [first!, { ...second!, optional: true }];
    const always = bestPlan({ ...problem, stays });
    expect(always!.stays[1]).not.toBeNull();
    const [wash, polish, move] = problem.operations;
    const inFirst = { ...problem, stays, operations: [wash!, { ...polish!, stay: 0 }, move!] };
    expect(bestPlan(inFirst)!.stays[1]).toBeNull();
  });
});
