import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { hold } from '../../../src/shop/booking/hold.ts';
import { type QuoteChoice, quote } from '../../../src/shop/booking/quote.ts';
import { loadDemo } from '../../../src/shop/demo/load-demo.ts';
import type { ShopDeps } from '../../../src/shop/deps.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { NothingFits, SlotGone } from '../../../src/shop/problems/problems.ts';
import type { JobId, ShopId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, at, MONDAY_8 } from '../a-shop.ts';

const holding = { holdMinutes: 30, depositNote: '' };

async function demoShop(now: Instant) {
  const shop = await aShop({ empty: true, now });
  const { shopId } = await loadDemo(shop.deps);
  return { ...shop, shopId };
}

/** Which service others give way to follows from the book: the first of these, the short ones before. */
async function askedWhereOthersGiveWay(deps: ShopDeps, shopId: ShopId, earliestDropOff: Instant) {
  for (const recipeId of [
    'walkInWash',
    'maintenance',
    'afterCheck',
    'newCar',
    'oneLayerCeramic',
    'multiLayerCeramic',
  ]) {
    const request = aRequest(recipeId, { earliestDropOff });
    const { choices } = await quote(deps, { shopId, request });
    if (choices.some(({ why }) => why === 'movingOthers')) return { request, choices };
  }
  throw new Error('nobody gives way to anybody');
}

const recipes = ['walkInWash', 'maintenance', 'oneLayerCeramic', 'multiLayerCeramic'];
const hours = ['2026-03-04T08:30+01:00', '2026-03-04T13:10+01:00', '2026-03-04T19:45+01:00'];

describe('a choice of a quote', () => {
  for (const hour of hours) {
    test(`can be held as it was told while the plan stands, at ${hour.slice(11, 16)} of a day in full swing`, async () => {
      const { deps, shopId, setNow } = await demoShop(at(hour));
      const { promiseConfidencePercent } = (await deps.store.shops.get(shopId))!.value;
      let asked = at(hour) as number;
      for (const recipeId of recipes) {
        asked += 3 * 60_000;
        setNow(asked as Instant);
        const request = aRequest(recipeId, { earliestDropOff: asked as Instant });
        const { choices } = await quote(deps, { shopId, request });
        expect(choices.length).toBeGreaterThan(0);
        expectHonest(choices, promiseConfidencePercent);
        const choice = choices.at(-1)!;
        // Whoever is on the telephone takes a moment to say yes.
        setNow((asked + 40_000) as Instant);
        const { dropOffAt, pickupAt } = choice;
        const held = await hold(deps, { shopId, request, dropOffAt, pickupAt, ...holding });
        expect(held.planned).toMatchObject({ dropOffAt, readyAt: choice.readyAt, lateMinutes: 0 });
        expect(held.job.promise).toMatchObject({ pickupAt, confidencePercent: choice.confidencePercent });
        const { operations, stays } = ofJob(choice, held.job.id);
        expect(held.operations).toEqual(operations);
        expect(held.stays).toEqual(stays);
      }
    });
  }

  test('moves nobody: every other car keeps its work to the minute', async () => {
    const { deps, shopId } = await demoShop(at(hours[0]!));
    await replan(deps, { shopId, reason: 'as things stand' });
    const before = (await deps.store.plans.current(shopId))!;
    const request = aRequest('maintenance', { earliestDropOff: deps.clock() });
    const { choices } = await quote(deps, { shopId, request });
    const { dropOffAt, pickupAt } = choices[0]!;
    const { job } = await hold(deps, { shopId, request, dropOffAt, pickupAt, ...holding });
    const after = (await deps.store.plans.current(shopId))!;
    expect(after.version).toBe(before.version + 1);
    expect(after.operations.filter((each) => each.jobId !== job.id)).toEqual(before.operations);
    expect(after.stays.filter((each) => each.jobId !== job.id)).toEqual(before.stays);
  });

  test('for which others give way brings the car back half a day sooner, and nothing told to anybody changes', async () => {
    const { deps, shopId } = await demoShop(at(hours[1]!));
    const { request, choices } = await askedWhereOthersGiveWay(deps, shopId, (at(hours[1]!) + 30 * 60_000) as Instant);
    const moving = choices.find(({ why }) => why === 'movingOthers')!;
    const soonest = choices.find(({ why }) => why === 'soonest')!;
    expect(moving.displaces.length).toBeGreaterThan(0);
    expect(soonest.displaces).toEqual([]);
    expect(soonest.pickupAt - moving.pickupAt).toBeGreaterThanOrEqual(12 * 3_600_000);

    const jobsBefore = (await deps.store.jobs.listOpen(shopId)).map(({ value }) => value);
    const before = (await deps.store.plans.current(shopId))!;
    const { dropOffAt, pickupAt } = moving;
    const held = await hold(deps, { shopId, request, dropOffAt, pickupAt, ...holding });
    expect(held.job.promise).toMatchObject({ pickupAt, confidencePercent: moving.confidencePercent });
    expect(held.planned).toMatchObject({ dropOffAt, readyAt: moving.readyAt, lateMinutes: 0 });

    const after = (await deps.store.plans.current(shopId))!;
    const movedOf = (jobId: JobId) => [before, after].map((plan) => plan.operations.filter((o) => o.jobId === jobId));
    for (const job of jobsBefore) {
      const [was, is] = movedOf(job.id);
      const displaced = moving.displaces.find(({ jobId }) => jobId === job.id);
      if (displaced === undefined) expect(is).toEqual(was);
      else expect(is).not.toEqual(was);
      const [then, now] = [before, after].map((plan) => plan.jobs.find(({ jobId }) => jobId === job.id)!);
      expect(now!.dropOffAt).toBe(then!.dropOffAt);
      expect(now!.lateMinutes).toBeLessThanOrEqual(then!.lateMinutes);
      if (displaced !== undefined) expect(now!.readyAt - then!.readyAt).toBe(displaced.readyMinutes * 60_000);
    }
    const told = (jobs: readonly Job[]) => jobs.map(({ id, dropOffAt: at, promise }) => [id, at, promise?.pickupAt]);
    const jobsAfter = (await deps.store.jobs.listOpen(shopId)).map(({ value }) => value);
    expect(told(jobsAfter.filter(({ id }) => id !== held.job.id))).toEqual(told(jobsBefore));
  });

  test('that somebody else took meanwhile is gone, and the nearest is named', async () => {
    const { deps, shopId } = await aShop();
    const request = aRequest('walkInWash', { earliestDropOff: MONDAY_8 });
    const { choices, planVersion } = await quote(deps, { shopId, request });
    const { dropOffAt, pickupAt } = choices[0]!;
    const taken = { shopId, request, dropOffAt, pickupAt, planVersion, depositNote: '' };
    await book(deps, taken);
    const second = await hold(deps, { ...taken, ...holding }).catch((problem: unknown) => problem);
    expect(second).toBeInstanceOf(SlotGone);
    expect((second as SlotGone).nearest!.pickupAt).toBeGreaterThan(pickupAt);
    const again = await quote(deps, { shopId, request });
    expect(again.planVersion).toBe(1);
    expect(again.choices[0]!.pickupAt).toBeGreaterThan(pickupAt);
  });

  test('is the same when the same is asked again while nothing has changed', async () => {
    const { deps, shopId } = await aShop();
    const request = aRequest('walkInWash', { earliestDropOff: MONDAY_8 });
    const first = await quote(deps, { shopId, request });
    const again = await quote(deps, { shopId, request });
    const { jobId } = again.choices[0]!.operations[0]!;
    expect(again.choices).toEqual(first.choices.map((each) => ofJob(each, jobId)));
  });
});

/** The same choice with its car under another identifier: a quote's car is nobody yet. */
function ofJob(choice: QuoteChoice, jobId: JobId): QuoteChoice {
  const operations = choice.operations.map((each) => ({ ...each, jobId }));
  return { ...choice, operations, stays: choice.stays.map((each) => ({ ...each, jobId })) };
}

function expectHonest(choices: readonly QuoteChoice[], leastPercent: number): void {
  const told = choices.map(({ dropOffAt, pickupAt }) => `${dropOffAt} ${pickupAt}`);
  expect(new Set(told).size).toBe(told.length);
  expect(new Set(choices.map((each) => each.dropOffAt)).size).toBe(told.length);
  const [soonest, ...others] = choices;
  expect(soonest!.why).toBe('soonest');
  for (const choice of choices) {
    expect(choice.confidencePercent).toBeGreaterThanOrEqual(leastPercent);
    expect(choice.pickupAt).toBeGreaterThanOrEqual(choice.readyAt);
    expect(choice.stays[0]!.from).toBe(choice.dropOffAt);
    expect(choice.operations.length).toBeGreaterThan(0);
  }
  for (const other of others.filter(({ displaces }) => displaces.length === 0)) {
    expect(other.pickupAt).toBeGreaterThanOrEqual(soonest!.pickupAt);
  }
}

describe('a car for which there is no place at its hour', () => {
  test('is told what stands against it, whether all of that is needed, and what would fit', async () => {
    const { deps, shopId } = await aShop();
    const request = aRequest('walkInWash', { earliestDropOff: MONDAY_8 });
    // Every car is taken in by somebody the moment it comes, and there are no more people than that.
    const people = (await deps.store.technicians.list(shopId)).length;
    let refusal: unknown;
    for (let cars = 0; cars <= people && refusal === undefined; cars++) {
      const sold = { shopId, request, depositNote: '', dropOffAt: MONDAY_8, pickupAt: null };
      refusal = await book(deps, sold).then(
        () => undefined,
        (problem: unknown) => problem,
      );
    }
    expect(refusal).toBeInstanceOf(NothingFits);
    const { objections, nearest } = refusal as NothingFits;
    expect(objections.filter((each) => each.rule.startsWith('conflict.')).length).toBeGreaterThan(0);
    expect(objections.some((each) => ['conflict.minimal', 'conflict.notMinimal'].includes(each.rule))).toBe(true);
    expect(nearest!.dropOffAt).toBeGreaterThan(MONDAY_8);
  });
});
