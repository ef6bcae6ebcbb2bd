import { describe, expect, it } from 'vitest';
import { BAY, bestPlan, oneWorkEach } from './proved-visits.ts';

const HOURS = [
  { from: 3, to: 5 },
  { from: 9, to: 12 },
];

function withHours(minutes: number, given: object) {
  const problem = oneWorkEach([minutes], [BAY]);
  return { ...problem, jobs: [{ ...problem.jobs[0]!, ...given }] };
}

describe('opening hours', () => {
  it('a car is dropped off in them, and not before it is released', () => {
    expect(bestPlan(withHours(2, { dropOffOpen: HOURS }))!.stays[0]!.from).toBe(3);
    expect(bestPlan(withHours(2, { dropOffOpen: HOURS, release: 5 }))!.stays[0]!.from).toBe(9);
    expect(bestPlan(withHours(2, { dropOffOpen: HOURS, release: 12 }))).toBeNull();
  });

  it('its owner comes for it in them, when handover starts; without one, when it leaves', () => {
    expect(bestPlan(withHours(2, { pickupOpen: HOURS }))!.operations[0]!.start).toBe(3);
    const { handover: _, ...unattended } = oneWorkEach([4], [BAY]).jobs[0]!;
    const problem = { ...oneWorkEach([4], [BAY]), jobs: [{ ...unattended, pickupOpen: HOURS, release: 2 }] };
    const plan = bestPlan(problem);
    expect(plan!.operations[0]!.start).toBe(2);
    expect(plan!.stays[0]!.to).toBeGreaterThanOrEqual(9);
  });
});
