import { describe, expect, it } from 'vitest';
import { behindPlan, TOLERATED_MINUTES } from '../../../src/shop/upkeep/behind-plan.ts';
import type { PlannedOperation } from '../../../src/trade/model/plan.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

const MINUTE = 60_000;
const now = Date.UTC(2026, 2, 3, 10) as Instant;

function operation(state: PlannedOperation['state'], startedAgo: number, minutes: number, people = ['ash']) {
  const start = now - startedAgo * MINUTE;
  return { state, start, end: start + minutes * MINUTE, people } as unknown as PlannedOperation;
}

describe('a day that runs behind its plan', () => {
  it('shows in work that should have begun and has not', () => {
    expect(behindPlan({ operations: [operation('planned', TOLERATED_MINUTES + 1, 60)] }, now)).toHaveLength(1);
  });

  it('shows in work that goes on past its end', () => {
    expect(behindPlan({ operations: [operation('underWay', 60, 60 - TOLERATED_MINUTES - 1)] }, now)).toHaveLength(1);
  });

  it('does not show within the minutes that a recording is often late', () => {
    const operations = [operation('planned', TOLERATED_MINUTES, 60), operation('underWay', 60, 60 - TOLERATED_MINUTES)];
    expect(behindPlan({ operations }, now)).toEqual([]);
  });

  it('does not show in a cure that nobody has to start, nor in finished or paused work', () => {
    const operations = [
      operation('planned', 120, 600, []),
      operation('finished', 120, 60),
      operation('paused', 120, 60),
    ];
    expect(behindPlan({ operations }, now)).toEqual([]);
  });
});
