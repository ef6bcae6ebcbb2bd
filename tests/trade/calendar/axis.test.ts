import { expect, it } from 'vitest';
import { makeAxis } from '../../../src/trade/calendar/axis.ts';
import { localInstant } from '../../../src/trade/calendar/local-instant.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

const axis = makeAxis(Date.parse('2026-10-24T22:00Z') as Instant);

it('a fact lies in its minute and what is to come begins with the next whole one', () => {
  const at = Date.parse('2026-10-24T23:10:30Z') as Instant;
  expect(axis.toMinute(at, 'floor')).toBe(70);
  expect(axis.toMinute(at, 'ceil')).toBe(71);
});

it('the same instant survives a daylight-saving change', () => {
  // 25 October 2026: 02:30 comes twice in Berlin (Directive 2000/84/EC); an hour of elapsed minutes lies between.
  const first = localInstant('2026-10-25', '02:30', 'Europe/Berlin', 'start');
  const second = localInstant('2026-10-25', '02:30', 'Europe/Berlin', 'end');
  expect(axis.toMinute(second, 'floor') - axis.toMinute(first, 'floor')).toBe(60);
  for (const at of [first, second]) expect(axis.toInstant(axis.toMinute(at, 'floor'))).toBe(at);
});

it('hours are rounded inwards and cut off at the epoch', () => {
  const spans = [
    { from: axis.epoch - 120_000, to: axis.epoch + 90_000 },
    { from: axis.epoch + 150_000, to: axis.epoch + 300_000 },
    { from: axis.epoch - 120_000, to: axis.epoch - 60_000 },
  ];
  expect(axis.toIntervals(spans)).toEqual([
    { from: 0, to: 1 },
    { from: 3, to: 5 },
  ]);
});

it('refuses an epoch between two minutes', () => {
  expect(() => makeAxis(1 as Instant)).toThrow(/epoch 1 /);
});
