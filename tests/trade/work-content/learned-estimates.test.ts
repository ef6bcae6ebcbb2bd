import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { learnedEstimates, learnedFailurePercent } from '../../../src/trade/work-content/learned-estimates.ts';

const clay = (computedMinutes: number, workedMinutes: number) => ({
  kind: 'clay' as const,
  computedMinutes,
  workedMinutes,
});

describe('what the floor has recorded', () => {
  it('says nothing of kinds without records', () => {
    expect(learnedEstimates([])).toEqual({});
  });

  it('moves the norm half-way, in logarithms, after as many records as the norm is worth', () => {
    // Five records at double the minutes: sqrt(2) = 1.414.
    expect(learnedEstimates(Array.from({ length: 5 }, () => clay(30, 60)))).toEqual({ clay: 141 });
  });

  it('wins in the long run', () => {
    expect(learnedEstimates(Array.from({ length: 500 }, () => clay(40, 50))).clay).toBeGreaterThanOrEqual(124);
  });

  it('does not let one forgotten tap double the norm', () => {
    expect(learnedEstimates([clay(30, 3000)]).clay).toBeLessThanOrEqual(121);
  });

  it('treats half and double alike: together they change nothing', () => {
    expect(learnedEstimates([clay(30, 60), clay(30, 15)])).toEqual({ clay: 100 });
  });

  it('never overshoots the records', () => {
    const ratio = fc.double({ min: 0.4, max: 2.5, noNaN: true });
    fc.assert(
      fc.property(fc.array(ratio, { minLength: 1, maxLength: 40 }), (ratios) => {
        const percent = learnedEstimates(ratios.map((one) => clay(100, 100 * one))).clay!;
        expect(percent).toBeGreaterThanOrEqual(Math.floor(100 * Math.min(1, ...ratios)));
        expect(percent).toBeLessThanOrEqual(Math.ceil(100 * Math.max(1, ...ratios)));
      }),
      { seed: 15 },
    );
  });
});

describe('the share of failed final inspections', () => {
  it('is what the shop states until measured', () => {
    expect(learnedFailurePercent(10, 0, 0)).toBe(10);
  });

  it('is the mean of a beta distribution, by hand', () => {
    // Prior worth 20 cars, 2 failed; 4 of 20 recorded: 6 of 40.
    expect(learnedFailurePercent(10, 4, 20)).toBe(15);
  });

  it('refuses more failures than inspections', () => {
    expect(() => learnedFailurePercent(10, 3, 2)).toThrow(/failed/);
  });
});
