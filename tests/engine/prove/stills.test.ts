import { describe, expect, it } from 'vitest';
import { at } from '../random/blank-problem.ts';
import { bestPlan, plainWork, washedAndPolished } from './proved-visits.ts';

describe('a car that must stand still', () => {
  const problem = washedAndPolished(4, 5);
  const dry = plainWork('dry', 0, 6);
  const lag = { from: at(0, 'end'), to: at(3, 'start'), min: 0, max: 0 };
  const withDry = { ...problem, operations: [...problem.operations, dry], lags: [...problem.lags, lag] };

  it('is moved when it may: dry at 10, the move waits until then', () => {
    const still = { job: 0, from: at(0, 'end'), to: at(3, 'end') };
    const plan = bestPlan({ ...withDry, stills: [still] });
    expect(plan!.operations[2]!.start).toBe(10);
    expect(plan!.operations[1]!.end).toBe(16);
  });

  it('is moved at any time when the span is void', () => {
    const still = { job: 0, from: at(3, 'end'), to: at(0, 'end') };
    expect(bestPlan({ ...withDry, stills: [still] })!.operations[1]!.end).toBe(10);
  });
});
