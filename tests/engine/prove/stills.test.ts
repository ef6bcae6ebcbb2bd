import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { solve } from '../../../src/engine/solve.ts';
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

  it('is wiped from the very minute in which it came, once that is a fact', () => {
    const came = washedAndPolished(4, 5, {
      now: 3,
      jobs: [{ name: 'car', stays: [0, 1], release: 0, handover: 1 }],
      stays: [
        { job: 0, places: [0], optional: false, fixed: { place: 0, from: 3 } },
        { job: 0, places: [1], optional: false, move: 2 },
      ],
      stills: [{ job: 0, from: at(0, 'start'), to: at(0, 'end') }],
    });
    expect(bestPlan(came)!.operations[0]!.start).toBe(3);
    const { schedule } = solve(came, { seed: 1, workLimit: 0 });
    expect(check(came, schedule!)).toEqual([]);
  });
});
