import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { learnedChance } from '../../../src/promise/spread/learned-chance.ts';

describe('the chance that a final inspection fails', () => {
  it('is what the shop states until it is measured', () => {
    expect(learnedChance(0.1, 0, 0).probability).toBeCloseTo(0.1, 12);
  });

  it('has the mean and variance of the beta distribution, as jStat gives them', () => {
    const { probability, deviation, alpha, beta } = learnedChance(0.1, 9, 40);
    expect([alpha, beta]).toEqual([11, 49]);
    expect(probability).toBeCloseTo(jStat.beta.mean(11, 49), 12);
    expect(deviation ** 2).toBeCloseTo(jStat.beta.variance(11, 49), 12);
  });

  it('moves little with three cars and follows three hundred', () => {
    expect(learnedChance(0.1, 3, 3).probability).toBeLessThan(0.25);
    expect(learnedChance(0.1, 90, 300).probability).toBeCloseTo(0.2875, 4);
  });

  it('names the argument that is out of range', () => {
    expect(() => learnedChance(1.2, 0, 0)).toThrow('stated is 1.2');
    expect(() => learnedChance(0.1, 4, 3)).toThrow('happened is 4');
  });
});
