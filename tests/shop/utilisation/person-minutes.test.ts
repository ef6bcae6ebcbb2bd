import { expect, test } from 'vitest';
import { splitPerson } from '../../../src/shop/utilisation/person-minutes.ts';

test('watching a lamp takes its share of a person, and nothing beside hands-on work', () => {
  const split = splitPerson({
    hours: [{ from: 480, to: 1020 }],
    overtime: [],
    handsOn: [{ from: 480, to: 600 }],
    watched: [{ from: 540, to: 700, sharePercent: 20 }],
  });
  // 100 minutes of watching lie outside the hands-on work; a fifth of them is the person's.
  expect(split).toEqual({ open: 540, worked: 120, watched: 20, free: 400, overtime: 0 });
});

test('authorised overtime is counted apart from the shift', () => {
  const split = splitPerson({
    hours: [{ from: 480, to: 1080 }],
    overtime: [{ from: 1020, to: 1080 }],
    handsOn: [{ from: 1000, to: 1050 }],
    watched: [],
  });
  expect(split).toEqual({ open: 540, worked: 20, watched: 0, free: 520, overtime: 30 });
});
