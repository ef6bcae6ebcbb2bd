import { expect, test } from 'vitest';
import { z } from 'zod';
import { inZone } from '../../../src/api/wire/in-zone.ts';
import { onTheWire } from '../../../src/api/wire/on-the-wire.ts';
import { PlannedStay } from '../../../src/trade/model/plan.ts';

const reply = inZone(onTheWire(z.object({ stays: z.array(PlannedStay) })), 'Europe/Vienna');
const inTokyo = inZone(onTheWire(z.object({ stays: z.array(PlannedStay) })), 'Asia/Tokyo');
const written = (schema: typeof reply, stays: PlannedStay[]) => z.encode(schema, { stays }) as { stays: object[] };
const stay = () =>
  PlannedStay.parse({ jobId: 'j1', placeId: 'bay1', from: Date.UTC(2026, 2, 2, 8), to: Date.UTC(2026, 2, 2, 9) });
const told = { jobId: 'j1', placeId: 'bay1', from: '2026-03-02T09:00:00+01:00', to: '2026-03-02T10:00:00+01:00' };

test('a frozen part of a plan is written once, and says the same each time', () => {
  const kept = Object.freeze(stay());
  const first = written(reply, [kept, kept]);
  expect(first).toEqual({ stays: [told, told] });
  expect(written(reply, [kept]).stays[0]).toBe(first.stays[0]);
});

test('it is written in the zone of each reply', () => {
  const kept = Object.freeze(stay());
  written(reply, [kept]);
  expect(written(inTokyo, [kept]).stays[0]).toMatchObject({ from: '2026-03-02T17:00:00+09:00' });
});

test('a part that may still change is written anew', () => {
  const open = stay();
  written(reply, [open]);
  open.placeId = 'bay2' as typeof open.placeId;
  expect(written(reply, [open])).toEqual({ stays: [{ ...told, placeId: 'bay2' }] });
});

test('a part that is not as its schema says is still refused', () => {
  const broken = Object.freeze({ ...stay(), to: 'noon' as never });
  expect(() => written(reply, [broken])).toThrow();
});
