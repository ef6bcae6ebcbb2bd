import { setTimeout } from 'node:timers/promises';
import { expect, onTestFinished, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import type { Desk, DeskQuestion } from '../../../src/shop/booking/desk.ts';
import { keepDeskReady } from '../../../src/shop/booking/keep-desk-ready.ts';
import { bookToQuoteFrom } from '../../../src/shop/booking/open-at-desk.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

test('a book that has changed is opened before anybody asks, as it stands, and once for news that comes together', async () => {
  const { deps, shopId } = await aShop();
  const opened: { kind: DeskQuestion['kind']; planVersion: number }[] = [];
  const desk: Desk = {
    async ask({ book: { previousPlan } }, question) {
      opened.push({ kind: question.kind, planVersion: previousPlan?.version ?? 0 });
      return { kind: 'open' };
    },
    openNow: () => null,
  };
  const ready = keepDeskReady({ ...deps, desk }, 5);
  onTestFinished(() => ready.stop());
  const request = aRequest('walkInWash');
  await book(deps, { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
  await ready.settled();
  expect(opened).toEqual([{ kind: 'open', planVersion: 1 }]);
});

test('a book that cannot be opened is left to whoever asks next', async () => {
  const { deps, shopId } = await aShop();
  const warned: string[] = [];
  const desk: Desk = { ask: () => Promise.reject(new Error('no')), openNow: () => null };
  const log = { ...deps.log, warn: (_: object, words: string) => warned.push(words) };
  const ready = keepDeskReady({ ...deps, desk, log }, 5);
  onTestFinished(() => ready.stop());
  const request = aRequest('walkInWash');
  await book(deps, { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
  await ready.settled();
  expect(warned).toHaveLength(1);
});

test('while somebody asks for quotes a book that has changed is not opened under their feet', async () => {
  const { deps, shopId } = await aShop();
  let openings = 0;
  const desk: Desk = {
    async ask() {
      openings++;
      return { kind: 'open' };
    },
    openNow: () => null,
  };
  const sold = { shopId, request: aRequest('walkInWash'), dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' };
  await book(deps, sold);
  await bookToQuoteFrom({ ...deps, desk }, shopId);
  const asked = openings;
  const ready = keepDeskReady({ ...deps, desk }, 5);
  onTestFinished(() => ready.stop());
  await book(deps, { ...sold, dropOffAt: (MONDAY_8 + 120 * 60_000) as Instant });
  await setTimeout(50);
  expect(openings).toBe(asked);
  // Three seconds after the last quote it is.
  await ready.settled();
  expect(openings).toBe(asked + 1);
});
