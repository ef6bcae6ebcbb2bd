import { expect, onTestFinished, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import type { Desk, DeskQuestion } from '../../../src/shop/booking/desk.ts';
import { keepDeskReady } from '../../../src/shop/booking/keep-desk-ready.ts';
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
