import { describe, expect, it } from 'vitest';
import { logLogSlope } from './slope.ts';

describe('the slope in logarithms', () => {
  it('is the exponent of an exact power', () => {
    expect(logLogSlope([10, 100, 1000].map((x) => ({ x, y: 3 * x ** 1.5 })))).toBeCloseTo(1.5, 12);
  });

  // By hand: logs to base 10 are (1, 1), (2, 3), (3, 4); the line through them rises by 3/2.
  it('is that of the least-squares line when the points do not lie on one', () => {
    const points = [
      { x: 10, y: 10 },
      { x: 100, y: 1000 },
      { x: 1000, y: 10_000 },
    ];
    expect(logLogSlope(points)).toBeCloseTo(1.5, 12);
  });

  it('is not told by one size alone', () => {
    expect(logLogSlope([{ x: 5, y: 5 }])).toBeNaN();
  });
});
