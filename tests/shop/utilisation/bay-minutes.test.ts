import fc from 'fast-check';
import { expect, test } from 'vitest';
import { splitBay } from '../../../src/shop/utilisation/bay-minutes.ts';

const nothing = { cars: [], work: [], unattended: [], shut: [], turnaroundMinutes: 0 };
const day = [{ from: 480, to: 1020 }];

test('a bay without a car is empty from opening to closing', () => {
  expect(splitBay({ ...nothing, open: day })).toEqual({
    open: 540,
    worked: 0,
    curing: 0,
    waiting: 0,
    blocked: 0,
    empty: 540,
  });
});

test('a car that cures overnight takes only the opening hours of it', () => {
  const split = splitBay({
    ...nothing,
    open: day,
    cars: [{ from: 900, to: 2000 }],
    work: [{ from: 900, to: 960 }],
    unattended: [{ from: 960, to: 2000 }],
  });
  expect(split).toMatchObject({ worked: 60, curing: 60, waiting: 0, empty: 420 });
});

test('somebody working on a curing car counts as work, and a car nobody touches as waiting', () => {
  const split = splitBay({
    ...nothing,
    open: day,
    cars: [{ from: 480, to: 600 }],
    work: [{ from: 500, to: 520 }],
    unattended: [{ from: 490, to: 530 }],
  });
  expect(split).toMatchObject({ worked: 20, curing: 20, waiting: 80 });
});

test('turnaround and a tandem neighbour block an empty bay, and never one that holds a car', () => {
  const split = splitBay({
    ...nothing,
    open: day,
    cars: [{ from: 480, to: 540 }],
    shut: [{ from: 500, to: 580 }],
    turnaroundMinutes: 20,
  });
  expect(split).toMatchObject({ waiting: 60, blocked: 40, empty: 440 });
});

test('the parts of a bay add up to its opening hours, whatever lies over what', () => {
  const spans = fc.array(
    fc
      .tuple(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 1, max: 900 }))
      .map(([from, length]) => ({ from, to: from + length })),
    { maxLength: 8 },
  );
  fc.assert(
    fc.property(
      spans,
      spans,
      spans,
      spans,
      spans,
      fc.nat(60),
      (open, cars, work, unattended, shut, turnaroundMinutes) => {
        const split = splitBay({ open, cars, work, unattended, shut, turnaroundMinutes });
        const minutes = new Set<number>();
        for (const { from, to } of open) for (let minute = from; minute < to; minute++) minutes.add(minute);
        expect(split.open).toBe(minutes.size);
        expect(split.worked + split.curing + split.waiting + split.blocked + split.empty).toBe(split.open);
      },
    ),
    { seed: 11 },
  );
});
