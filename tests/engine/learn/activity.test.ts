import { describe, expect, it } from 'vitest';
import { Activity } from '../../../src/engine/learn/activity.ts';
import { Bounds } from '../../../src/engine/learn/bounds.ts';

describe('activity', () => {
  it('a literal and its negation are one', () => {
    const bounds = new Bounds();
    const x = bounds.newVariable(0, 9);
    const activity = new Activity(bounds, 0.95);
    expect(activity.literal(x, 4)).toBe(activity.literal(x ^ 1, -3));
    expect(activity.literal(x, 4)).not.toBe(activity.literal(x, 5));
  });

  it('gives the most active undecided literal, and gives a decided one again once it is open again', () => {
    const bounds = new Bounds();
    const x = bounds.newVariable(0, 9);
    const y = bounds.newVariable(0, 9);
    const activity = new Activity(bounds, 0.95);
    activity.bump(x, 4);
    activity.bump(x, 4);
    activity.bump(y, 6);
    bounds.openLevel();
    bounds.raise(x, 5, -1, 0);
    const taken = activity.take();
    expect([activity.half[taken], activity.bound[taken]]).toEqual([y, 6]);
    bounds.backtrackTo(0);
    activity.backtrackTo(0);
    const again = activity.take();
    expect([activity.half[again], activity.bound[again]]).toEqual([x, 4]);
  });

  it('what was active long ago counts less than what is active now', () => {
    const bounds = new Bounds();
    const x = bounds.newVariable(0, 9);
    const activity = new Activity(bounds, 0.5);
    activity.bump(x, 3);
    activity.bump(x, 3);
    for (let k = 0; k < 10; k++) activity.decayAll();
    activity.bump(x, 7);
    expect(activity.bound[activity.take()]).toBe(7);
  });

  it('keeps the more active half when there are too many', () => {
    const bounds = new Bounds();
    const x = bounds.newVariable(0, 2000);
    const activity = new Activity(bounds, 0.95);
    for (let b = 1; b <= 1000; b++) for (let k = 0; k < (b === 700 ? 3 : 1); k++) activity.bump(x, b);
    activity.trim(100);
    expect(activity.bound[activity.take()]).toBe(700);
    let left = 1;
    while (activity.take() >= 0) left++;
    expect(left).toBe(50);
  });
});
