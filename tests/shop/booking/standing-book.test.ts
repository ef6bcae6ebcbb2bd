import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { bookToQuoteFrom, standingBook } from '../../../src/shop/booking/standing-book.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, at, MONDAY_8 } from '../a-shop.ts';

const TUESDAY_8 = at('2026-03-03T08:00+01:00');

test('the desk’s book stands through what is only noted, and not through what has happened', async () => {
  const { deps, shopId } = await aShop();
  const request = aRequest('walkInWash');
  const { job } = await book(deps, { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
  const told = (clientId: string, fact: FloorFact) =>
    recordFact(deps, { shopId, jobId: job.id, clientId, occurredAt: MONDAY_8, fact });
  const before = await standingBook(deps.store, shopId, MONDAY_8);
  await told('tablet-note', { kind: 'noted', operation: null, text: 'a scratch on the door' });
  expect(await standingBook(deps.store, shopId, MONDAY_8)).toBe(before);
  const [place] = await deps.store.places.list(shopId);
  await told('tablet-came', { kind: 'arrived', placeId: place!.value.id });
  const after = await standingBook(deps.store, shopId, MONDAY_8);
  expect(after.key).not.toBe(before.key);
  expect(after.book.events.map(({ fact }) => fact.kind)).toEqual(['noted', 'arrived']);
});

describe('a quote', () => {
  const later = (seconds: number) => (MONDAY_8 + seconds * 1000) as Instant;

  /** A shop in which a car was moved after the desk opened its book. */
  async function aCarWasMoved() {
    const { deps, shopId, setNow } = await aShop();
    const desk = deps.desk!;
    const request = aRequest('walkInWash');
    const sell = (dropOffAt: Instant) => book(deps, { shopId, request, dropOffAt, pickupAt: null, depositNote: '' });
    const { job } = await sell(MONDAY_8);
    const [first, second] = await deps.store.places.list(shopId);
    const told = (clientId: string, occurredAt: Instant, fact: FloorFact) =>
      recordFact(deps, { shopId, jobId: job.id, clientId, occurredAt, fact });
    await told('tablet-came', MONDAY_8, { kind: 'arrived', placeId: first!.value.id });
    const open = await standingBook(deps.store, shopId, MONDAY_8);
    await desk.ask(open, { kind: 'open' });
    setNow(later(1));
    await told('tablet-moved', later(1), { kind: 'moved', placeId: second!.value.id });
    const quoteFrom = (seconds: number) => bookToQuoteFrom(deps.store, desk, shopId, later(seconds));
    return { open, sell, quoteFrom, setNow };
  }

  test('is answered from the open book while the next is opened, for half a minute', async () => {
    const { open, quoteFrom } = await aCarWasMoved();
    expect(await quoteFrom(2)).toBe(open);
    expect((await quoteFrom(32)).key).not.toBe(open.key);
  });

  test('is never answered from a book that lacks a car that was sold', async () => {
    const { open, sell, quoteFrom, setNow } = await aCarWasMoved();
    setNow(later(2));
    const { job } = await sell(TUESDAY_8);
    const standing = await quoteFrom(3);
    expect(standing.key).not.toBe(open.key);
    expect(standing.book.jobs.map(({ id }) => id)).toContain(job.id);
  });
});
