import { expect, test } from 'vitest';
import { occupancyOf } from '../../../src/shop/planning/occupancy.ts';
import { PlannedStay } from '../../../src/trade/model/plan.ts';
import { Instant } from '../../../src/trade/model/time.ts';

const stay = (jobId: string, from: number, to: number, placeId = 'bay') =>
  PlannedStay.parse({ jobId, placeId, from, to });
const now = Instant.parse(100);

test('a place is claimed from now on; what is past is nobody’s any more', () => {
  expect(occupancyOf([stay('a', 0, 90), stay('b', 90, 150)], now).occupancy).toEqual([
    { placeId: 'bay', jobId: 'b', from: 100, to: 150 },
  ]);
});

test('two cars told to stand in one place share it one after the other, and the clash is named', () => {
  const { occupancy, clashes } = occupancyOf([stay('a', 50, 150), stay('b', 80, 200)], now);
  expect(occupancy).toEqual([
    { placeId: 'bay', jobId: 'a', from: 100, to: 150 },
    { placeId: 'bay', jobId: 'b', from: 150, to: 200 },
  ]);
  expect(clashes.map((each) => [each.stay.jobId, each.with.jobId])).toEqual([['b', 'a']]);
});

test('a car hidden behind another for its whole stay claims nothing', () => {
  const { occupancy, clashes } = occupancyOf([stay('a', 50, 300), stay('b', 80, 200), stay('c', 250, 320)], now);
  expect(occupancy.map((each) => [each.jobId, each.from, each.to])).toEqual([
    ['a', 100, 300],
    ['c', 300, 320],
  ]);
  expect(clashes).toHaveLength(2);
});

test('one car in two stays of one place is no clash', () => {
  expect(occupancyOf([stay('a', 100, 150), stay('a', 150, 200)], now).clashes).toEqual([]);
});
