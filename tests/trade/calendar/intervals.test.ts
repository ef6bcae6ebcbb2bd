import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Intervals, intersect, measure, subtract, union } from '../../../src/trade/calendar/intervals.ts';

const minutes = 60;
const list = fc.array(
  fc.tuple(fc.nat(minutes - 1), fc.nat(12)).map(([from, length]) => ({ from, to: Math.min(minutes, from + length) })),
  { maxLength: 8 },
);
const within = (intervals: Intervals, minute: number) =>
  intervals.some(({ from, to }) => from <= minute && minute < to);

it('union, intersection and difference say the same as asking minute by minute', () => {
  fc.assert(
    fc.property(list, list, (a, b) => {
      const one = union(a);
      const other = union(b);
      const both = intersect(one, other);
      const left = subtract(one, other);
      for (let minute = 0; minute < minutes; minute++) {
        expect(within(one, minute)).toBe(within(a, minute));
        expect(within(both, minute)).toBe(within(a, minute) && within(b, minute));
        expect(within(left, minute)).toBe(within(a, minute) && !within(b, minute));
      }
      expect(measure(one, 0, minutes)).toBe(measure(both, 0, minutes) + measure(left, 0, minutes));
    }),
    { seed: 7, numRuns: 300 },
  );
});

it('touching intervals are one', () => {
  expect(
    union([
      { from: 5, to: 9 },
      { from: 1, to: 5 },
      { from: 3, to: 3 },
    ]),
  ).toEqual([{ from: 1, to: 9 }]);
});
