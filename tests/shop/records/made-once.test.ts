import { describe, expect, test } from 'vitest';
import { madeOnce } from '../../../src/shop/records/made-once.ts';

describe('what is made once', () => {
  test('is the same until an input is another', () => {
    const owner = {};
    const jobs = ['a'];
    const make = (inputs: readonly unknown[]) => madeOnce(owner, 'day', inputs, () => ({ inputs }));
    const first = make([jobs, 1]);
    expect(make([jobs, 1])).toBe(first);
    expect(make([jobs, 2])).not.toBe(first);
    // Equal is not enough: what was read anew may differ where nobody looked.
    expect(make([['a'], 2])).not.toBe(make([jobs, 2]));
    expect(make([jobs])).toEqual({ inputs: [jobs] });
  });

  test('is made apart for each name and each owner', () => {
    const [one, other] = [{}, {}];
    const made = madeOnce(one, 'day', [], () => ({}));
    expect(madeOnce(one, 'week', [], () => ({}))).not.toBe(made);
    expect(madeOnce(other, 'day', [], () => ({}))).not.toBe(made);
    expect(madeOnce(one, 'day', [], () => ({}))).toBe(made);
  });

  test('is forgotten when there are many names, what was asked for longest ago first', () => {
    const owner = {};
    const day = (k: number) => madeOnce(owner, `day ${k}`, [], () => ({}));
    const [first, second] = [day(0), day(1)];
    for (let k = 2; k <= 31; k++) day(k);
    expect(day(0)).toBe(first);
    day(32);
    expect(day(0)).toBe(first);
    expect(day(1)).not.toBe(second);
  });
});
