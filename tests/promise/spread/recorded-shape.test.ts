import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { jarqueBera, recordedShape } from '../../../src/promise/spread/recorded-shape.ts';
import { normalQuantile } from '../../../src/promise/spread/standard-normal.ts';

const normal = Array.from({ length: 400 }, (_, k) => normalQuantile((k + 0.5) / 400));
/** Half the cars take much longer: two humps. */
const twoHumps = Array.from({ length: 400 }, (_, k) => (k % 2 === 0 ? -1 : 1) + normal[k]! / 10);

describe('the shape of recorded durations', () => {
  it('is judged by the Jarque-Bera statistic, worked by hand', () => {
    // Values -1, -1, 0, 2: mean 0, m2 = 1.5, m3 = 1.5, m4 = 4.5; S^2 = 2/3, K = 2; (4/6)(2/3 + 1/4) = 11/18.
    expect(jarqueBera([-1, -1, 0, 2])).toBeCloseTo(11 / 18, 12);
  });

  it('is held against the chi-square table with two degrees of freedom', () => {
    expect(jStat.chisquare.inv(0.999, 2)).toBeCloseTo(13.8155, 3);
  });

  it('is log-normal unless the records clearly say otherwise', () => {
    expect(recordedShape(normal)).toBeUndefined();
    expect(recordedShape(twoHumps.slice(0, 60))).toBeUndefined();
    const shape = recordedShape(twoHumps)!;
    expect(shape).toHaveLength(33);
    expect(shape[8]).toBeLessThan(-0.7);
    expect(shape[24]).toBeGreaterThan(0.7);
    expect([...shape].sort((a, b) => a - b)).toEqual([...shape]);
  });
});
