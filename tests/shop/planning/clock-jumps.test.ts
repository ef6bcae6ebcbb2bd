import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { book } from '../../../src/shop/booking/book.ts';
import { quote } from '../../../src/shop/booking/quote.ts';
import { technicianQueue } from '../../../src/shop/floor/queue.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { timeline } from '../../../src/shop/floor/timeline.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { warmStartOf } from '../../../src/shop/planning/warm-start.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import type { Instant, LocalDate } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const later = (ms: number) => (MONDAY_8 + ms) as Instant;

/** A day with a car at work since nine and one that is booked for eleven; it is ten o'clock. */
async function aMorning() {
  const shop = await aShop();
  const { deps, shopId, setNow } = shop;
  const sale = { shopId, pickupAt: null, depositNote: '' };
  const first = await book(deps, { ...sale, request: aRequest('maintenance'), dropOffAt: MONDAY_8 });
  await book(deps, { ...sale, request: aRequest('walkInWash'), dropOffAt: later(3 * HOUR) });
  let told = 0;
  const tell = (fact: FloorFact) =>
    recordFact(deps, {
      shopId,
      jobId: first.job.id,
      clientId: `tablet-${++told}`,
      occurredAt: deps.clock(),
      fact,
    });
  const plan = (await deps.store.plans.current(shopId))!;
  const { placeId } = plan.stays.find(({ jobId }) => jobId === first.job.id)!;
  await tell({ kind: 'arrived', placeId });
  const intake = plan.operations.find(({ jobId }) => jobId === first.job.id)!;
  await tell({ kind: 'started', operation: intake.operation, by: [...intake.people] });
  setNow(later(HOUR));
  await tell({ kind: 'finished', operation: intake.operation });
  setNow(later(2 * HOUR));
  await replan(deps, { shopId, reason: 'ten o’clock' });
  return { ...shop, tell, jobId: first.job.id, by: intake.people };
}

/** What everybody reads, and a plan that obeys every rule of the book as it is at this clock. */
async function everythingAnswers({ deps, shopId, by }: Awaited<ReturnType<typeof aMorning>>) {
  const { published, plan } = await replan(deps, { shopId, reason: 'the clock jumped' });
  expect(published).toBe(true);
  const now = await loadBook(deps.store, shopId, deps.clock());
  const formulation = formulate(now);
  expect(check(formulation.problem, warmStartOf(formulation, now.previousPlan!))).toEqual([]);
  expect(plan.jobs).toHaveLength(2);
  const date = '2026-03-02' as LocalDate;
  expect((await timeline(deps, { shopId, date })).planVersion).toBe(plan.version);
  expect((await technicianQueue(deps, { shopId, technicianId: by[0]!, date })).planVersion).toBe(plan.version);
  const { choices } = await quote(deps, {
    shopId,
    request: aRequest('walkInWash', { earliestDropOff: deps.clock() }),
  });
  expect(choices.length).toBeGreaterThan(0);
}

describe('a clock that jumps', () => {
  test.each([
    ['back before what has been told', -90 * 60_000],
    ['back a day', -DAY],
    ['ahead by a night', 14 * HOUR],
    ['ahead by three weeks', 21 * DAY],
  ])('%s: the shop is planned, and everybody is answered', async (_, jump) => {
    const shop = await aMorning();
    shop.setNow(later(2 * HOUR + jump));
    await everythingAnswers(shop);
    // And when it is set right again.
    shop.setNow(later(2 * HOUR + 60_000));
    await everythingAnswers(shop);
  });

  test('keeps no fact from being told after it was set back: each is of the hour its device gives', async () => {
    const shop = await aMorning();
    shop.setNow(later(30 * 60_000));
    const events = await shop.deps.store.floorEvents.listByJob(shop.shopId, shop.jobId);
    const told = await shop.tell({ kind: 'noted', operation: null, text: 'told by a clock that was set back' });
    expect(told.event.sequence).toBe(events.length + 1);
    expect(told.event.occurredAt).toBe(later(30 * 60_000));
    await everythingAnswers(shop);
  });
});
