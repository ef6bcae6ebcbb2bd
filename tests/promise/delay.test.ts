import { describe, expect, test } from 'vitest';
import { delayOf } from '../../src/promise/delay.ts';
import { threePoint } from '../../src/trade/work-content/spread.ts';

/**
 * The Reliable Construction example of F. S. Hillier and G. J. Lieberman, "Introduction to Operations Research",
 * chapter on project management with PERT/CPM (figures from memory): the mean critical path A B C E F J L N takes
 * 44 weeks with variance 9, so that a deadline of 47 weeks is met with probability 0.84.
 */
const criticalPath = [
  threePoint(1, 2, 3),
  threePoint(2, 3.5, 8),
  threePoint(6, 9, 18),
  threePoint(1, 4.5, 5),
  threePoint(4, 4, 10),
  threePoint(3, 9, 9),
  threePoint(1, 5.5, 7),
  threePoint(5, 5.5, 9),
];
const likely = criticalPath.reduce((sum, each) => sum + each.likely, 0);

describe('a chain of three-point estimates', () => {
  test('has the sum of their means', () => {
    expect(likely + delayOf(criticalPath, 0).meanMinutes).toBeCloseTo(44, 10);
  });

  test('meets the textbook deadline with the textbook probability', () => {
    expect(delayOf(criticalPath, 0).probabilityWithin(47 - likely)).toBeCloseTo(0.8413, 4);
  });

  test('needs 1.645 deviations over its mean to be 95 % sure', () => {
    // 44 + 1.645 x 3 = 48.93, in whole minutes of delay.
    expect(delayOf(criticalPath, 0).minutesAt(0.95)).toBe(Math.ceil(44 + 1.6449 * 3 - likely));
  });
});

describe('a final inspection that may fail', () => {
  const certain = [threePoint(60, 60, 60)];

  test('leaves a sure plan sure when it never fails', () => {
    expect(delayOf(certain, 0).minutesAt(0.99)).toBe(0);
  });

  test('costs nothing at a confidence below the share that passes', () => {
    expect(delayOf(certain, 10).minutesAt(0.9)).toBe(0);
  });

  test('costs an hour of rework at a confidence half way into the share that fails', () => {
    // 0.90 + 0.10 x share = 0.95, so the share is one half: the mean of 30, 60 and 90 minutes.
    expect(delayOf(certain, 10).minutesAt(0.95)).toBe(60);
  });

  test('adds its share of an hour to the mean', () => {
    expect(delayOf(certain, 10).meanMinutes).toBeCloseTo(6, 10);
  });
});

test('a confidence of certainty is refused', () => {
  expect(() => delayOf([], 0).minutesAt(1)).toThrow(/confidence 1/);
});
