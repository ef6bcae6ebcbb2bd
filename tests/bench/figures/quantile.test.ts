import { describe, expect, it } from 'vitest';
import { median, quantile } from './quantile.ts';

describe('quantile', () => {
  // Worked by hand from Hyndman and Fan 1996, definition 7: position (n - 1) p.
  it('lies between the two order statistics around its position', () => {
    expect(quantile([40, 10, 30, 20], 0.5)).toBe(25);
    expect(quantile([1, 2, 3, 4, 5], 0.9)).toBeCloseTo(4.6, 12);
    expect(quantile([1, 2, 3, 4, 5], 0.25)).toBe(2);
  });

  it('has the least and the greatest value at its ends', () => {
    expect(quantile([7, 3, 9], 0)).toBe(3);
    expect(quantile([7, 3, 9], 1)).toBe(9);
  });

  it('is the only value of a sample of one, and nothing of an empty one', () => {
    expect(median([4])).toBe(4);
    expect(median([])).toBeNaN();
  });
});
