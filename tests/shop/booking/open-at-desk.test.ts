import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import type { Desk } from '../../../src/shop/booking/desk.ts';
import { bookToQuoteFrom, openAtDesk } from '../../../src/shop/booking/open-at-desk.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, at, MONDAY_8 } from '../a-shop.ts';

const TUESDAY_8 = at('2026-03-03T08:00+01:00');
const later = (seconds: number) => (MONDAY_8 + seconds * 1000) as Instant;

/** A shop in which a car comes after the desk opened its book. */
async function aCarCame() {
  const { deps, shopId, setNow } = await aShop();
  const opened: number[] = [];
  const inner = deps.desk!;
  const desk: Desk = {
    ...inner,
    ask(standing, question, which) {
      opened.push(standing.sequence);
      return inner.ask(standing, question, which);
    },
  };
  const request = aRequest('walkInWash');
  const sell = (dropOffAt: Instant) => book(deps, { shopId, request, dropOffAt, pickupAt: null, depositNote: '' });
  const { job } = await sell(later(60));
  await openAtDesk({ ...deps, desk }, shopId);
  const open = desk.openNow(shopId)!;
  opened.length = 0;
  const [place] = await deps.store.places.list(shopId);
  setNow(later(1));
  const fact: FloorFact = { kind: 'arrived', placeId: place!.value.id };
  await recordFact(deps, { shopId, jobId: job.id, clientId: 'tablet-1', occurredAt: later(1), fact });
  const note = (clientId: string) =>
    recordFact(deps, {
      shopId,
      jobId: job.id,
      clientId,
      occurredAt: later(1),
      fact: { kind: 'noted', operation: null, text: 'as it was seen' },
    });
  const quoteFrom = async (seconds: number) => {
    setNow(later(seconds));
    return (await bookToQuoteFrom({ ...deps, desk }, shopId)).standing;
  };
  const opening = () => openAtDesk({ ...deps, desk }, shopId);
  return { opening, open, opened, sell, note, quoteFrom, setNow };
}

describe('a quote', () => {
  test('is answered from the open book though the floor told something, for half a minute as if nothing had been told', async () => {
    const { open, opened, quoteFrom } = await aCarCame();
    expect(await quoteFrom(2)).toBe(open);
    expect(await quoteFrom(31)).toBe(open);
    expect(opened).toEqual([]);
  });

  test('is answered from it for two minutes while it is opened anew, and then waits for that', async () => {
    const { open, opened, opening, quoteFrom } = await aCarCame();
    expect(await quoteFrom(32)).toBe(open);
    await opening();
    expect(opened).toHaveLength(1);
    expect((await quoteFrom(33)).sequence).toBeGreaterThan(open.sequence);
    const late = await aCarCame();
    expect((await late.quoteFrom(122)).sequence).toBeGreaterThan(late.open.sequence);
  });

  test('is answered from the open book however much was noted since', async () => {
    const { open, opened, note, quoteFrom } = await aCarCame();
    for (let k = 0; k < 120; k++) await note(`tablet-1-note-${k}`);
    expect(await quoteFrom(2)).toBe(open);
    for (let k = 120; k < 240; k++) await note(`tablet-1-note-${k}`);
    expect(await quoteFrom(3)).toBe(open);
    expect(opened).toEqual([]);
  });

  test('is never answered from a book that lacks a car that was sold', async () => {
    const { open, sell, quoteFrom, setNow } = await aCarCame();
    setNow(later(2));
    const { job } = await sell(TUESDAY_8);
    const standing = await quoteFrom(3);
    expect(standing.sequence).toBeGreaterThan(open.sequence);
    expect(standing.book.jobs.map(({ id }) => id)).toContain(job.id);
  });

  test('asked together with others opens the book once for all', async () => {
    const { opened, quoteFrom } = await aCarCame();
    const standing = await Promise.all([quoteFrom(140), quoteFrom(140), quoteFrom(140)]);
    expect(new Set(standing).size).toBe(1);
    expect(opened).toEqual([standing[0]!.sequence]);
  });
});
