import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import { demoBook } from '../../../src/trade/demo/demo-book.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demo } from '../../seed/demo-shop.ts';

const berlin = { zone: 'Europe/Berlin' };
const at = (iso: string) => DateTime.fromISO(iso, berlin).toMillis() as Instant;
const said = (instant: number) => DateTime.fromMillis(instant, berlin).toFormat('ccc yyyy-MM-dd HH:mm');
const first = (now: string, shop = demo.shop) => said(demoBook(demo.book, shop, at(now))[0]!.earliestDropOff);

describe('the demo book', () => {
  it('begins today while the shop has not opened, otherwise on the next working day', () => {
    expect(first('2026-11-30T07:00')).toBe('Mon 2026-11-30 08:00');
    expect(first('2026-11-30T09:00')).toBe('Tue 2026-12-01 08:00');
    expect(first('2026-12-04T12:00')).toBe('Mon 2026-12-07 08:00');
  });

  it('passes by a closed day', () => {
    const exceptions = [{ date: '2026-12-07', kind: 'off' as const, parts: [] }];
    expect(first('2026-12-04T12:00', { ...demo.shop, exceptions })).toBe('Tue 2026-12-08 08:00');
  });

  it('keeps wall-clock hours across a change of daylight-saving time', () => {
    // The zone changes on Sunday 2027-03-28.
    for (const draft of demoBook(demo.book, demo.shop, at('2027-03-26T07:00'))) {
      expect(DateTime.fromMillis(draft.earliestDropOff, berlin).hour).toBeGreaterThanOrEqual(8);
      if (draft.wantedPickupAt) expect(draft.wantedPickupAt).toBeGreaterThan(draft.earliestDropOff);
    }
  });

  it('spans about two weeks, never in the past, and twice the same', () => {
    const now = at('2026-11-30T12:00');
    const drafts = demoBook(demo.book, demo.shop, now);
    expect(drafts).toEqual(demoBook(demo.book, demo.shop, now));
    for (const draft of drafts) expect(draft.earliestDropOff).toBeGreaterThan(now);
    const days = (Math.max(...drafts.map((draft) => draft.earliestDropOff)) - now) / 86_400_000;
    expect(days).toBeGreaterThan(9);
    expect(days).toBeLessThan(16);
  });
});
