import { describe, expect, it } from 'vitest';
import { Stride } from '../../../src/engine/prove/stride.ts';

describe('stride', () => {
  it('halves the way to the bound, then steps down twice as far after each success and half as far after a miss', () => {
    const stride = new Stride();
    expect(stride.goal(100, 200)).toBe(149);
    stride.reached();
    expect(stride.goal(100, 150)).toBe(124);
    stride.missed();
    expect(stride.goal(100, 150)).toBe(149);
    stride.reached();
    expect(stride.goal(100, 149)).toBe(147);
    stride.reached();
    expect(stride.goal(100, 147)).toBe(143);
    stride.missed();
    expect(stride.goal(100, 147)).toBe(145);
  });

  it('never aims below the bound, nor at the best itself', () => {
    const stride = new Stride();
    expect(stride.goal(99, 100)).toBe(99);
    stride.missed();
    for (let k = 0; k < 6; k++) stride.reached();
    expect(stride.goal(95, 100)).toBe(95);
  });
});
