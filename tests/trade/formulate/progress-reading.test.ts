import { describe, expect, it } from 'vitest';
import {
  doneBetween,
  endOfWork,
  hoursAsProgress,
  openStretches,
} from '../../../src/trade/formulate/progress-reading.ts';

// A morning of four hours and an afternoon of two.
const day = hoursAsProgress([
  { from: 480, to: 720 },
  { from: 750, to: 870 },
]);

describe('work in hours', () => {
  it('that does not fit before lunch goes on after it', () => {
    expect(endOfWork(day, 700, 30)).toBe(760);
    expect(openStretches(day, 700, 760)).toEqual([
      { from: 700, to: 720 },
      { from: 750, to: 760 },
    ]);
    expect(doneBetween(day, 700, 760)).toBe(30);
  });

  it('that outlasts all hours never ends', () => {
    expect(endOfWork(day, 480, 360)).toBe(870);
    expect(endOfWork(day, 480, 361)).toBeUndefined();
  });
});

it('work at half speed takes twice as long, and its end is rounded up to a whole minute', () => {
  const slowing = { at: [0, 100], rate: [1000, 500] };
  expect(endOfWork(slowing, 40, 90_000)).toBe(160);
  expect(endOfWork(slowing, 100, 750)).toBe(102);
  expect(doneBetween(slowing, 40, 160)).toBe(90_000);
});
