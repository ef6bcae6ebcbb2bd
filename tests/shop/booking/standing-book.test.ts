import { expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { standingBook } from '../../../src/shop/booking/standing-book.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

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
  expect(after.book.events.map(({ fact }) => fact.kind)).toEqual(['arrived']);
});
