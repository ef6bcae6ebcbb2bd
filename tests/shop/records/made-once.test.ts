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

  test('is forgotten, the oldest first, when there are many names', () => {
    const owner = {};
    const first = madeOnce(owner, 'day 0', [], () => ({}));
    for (let k = 1; k <= 31; k++) madeOnce(owner, `day ${k}`, [], () => ({}));
    expect(madeOnce(owner, 'day 0', [], () => ({}))).toBe(first);
    madeOnce(owner, 'day 32', [], () => ({}));
    expect(madeOnce(owner, 'day 0', [], () => ({}))).not.toBe(first);
  });
});
