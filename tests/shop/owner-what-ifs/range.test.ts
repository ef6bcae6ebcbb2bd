import { expect, test } from 'vitest';
import { rangeOf } from '../../../src/shop/owner-what-ifs/range.ts';

test('the median is the middle figure, of an even number the mean of the two middle ones', () => {
  expect(rangeOf([9, 1, 5])).toEqual({ median: 5, least: 1, most: 9 });
  expect(rangeOf([4, 1, 3, 10])).toEqual({ median: 3.5, least: 1, most: 10 });
  expect(rangeOf([7])).toEqual({ median: 7, least: 7, most: 7 });
});

test('of nothing the range is nothing', () => {
  expect(rangeOf([])).toEqual({ median: 0, least: 0, most: 0 });
});
