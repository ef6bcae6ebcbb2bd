import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { change } from '../../../src/shop/booking/change.ts';
import { cancel, noShow } from '../../../src/shop/booking/close-without-work.ts';
import { confirm } from '../../../src/shop/booking/confirm.ts';
import { hold } from '../../../src/shop/booking/hold.ts';
import { lapseHolds } from '../../../src/shop/booking/lapse-holds.ts';
import { quote } from '../../../src/shop/booking/quote.ts';
import { walkIn } from '../../../src/shop/booking/walk-in.ts';
import { Invalid, NothingFits, Refused, Stale, WrongState } from '../../../src/shop/problems/problems.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, at, MONDAY_8 } from '../a-shop.ts';

const wash = aRequest('walkInWash');
const holding = { pickupAt: null, holdMinutes: 30, depositNote: '' };

describe('a quote', () => {
  test('offers slots whose pickup the shop is sure enough of, and keeps none', async () => {
    const { deps, shopId } = await aShop();
    const { choices, currency } = await quote(deps, { shopId, request: wash });
    expect(choices.map((each) => each.why)).toEqual(['soonest', 'laterDay']);
    expect(currency).toBe('EUR');
    for (const choice of choices) {
      expect(choice.confidencePercent).toBeGreaterThanOrEqual(85);
      expect(choice.pickupAt).toBeGreaterThanOrEqual(choice.readyAt);
      expect(choice.operations.length).toBeGreaterThan(0);
    }
    expect(await deps.store.jobs.listOpen(shopId)).toEqual([]);
  });

  test('offers the day the customer wants', async () => {
    const { deps, shopId } = await aShop();
    const wanted = at('2026-03-05T10:00+01:00');
    const { choices } = await quote(deps, { shopId, request: { ...wash, wantedDropOffAt: wanted } });
    expect(choices.find((each) => each.why === 'wantedDay')?.dropOffAt).toBe(wanted);
  });

  test('is refused for a car that no bay takes, with the field at fault', async () => {
    const { deps, shopId } = await aShop();
    const request = { ...wash, vehicle: { ...wash.vehicle, lengthMm: 8900 } };
    const refused = await quote(deps, { shopId, request }).catch((problem: unknown) => problem);
    expect(refused).toBeInstanceOf(Refused);
    expect((refused as Refused).field).toMatch(/^vehicle\.length/);
  });

  test('asks for the painter’s word on a fresh repaint, and sells nothing before', async () => {
    const { deps, shopId } = await aShop();
    const request = aRequest('oneLayerCeramic', {
      vehicle: { ...wash.vehicle, repaints: [{ panel: 'bonnet', paintedOn: '2026-01-10', painterCleared: false }] },
    });
    const { advice, choices } = await quote(deps, { shopId, request });
    expect(advice).toHaveLength(1);
    const { dropOffAt } = choices[0]!;
    await expect(book(deps, { shopId, request, dropOffAt, pickupAt: null, depositNote: '' })).rejects.toThrow(Refused);
  });
});

describe('a hold', () => {
  test('becomes a booking with the promise it was given', async () => {
    const { deps, shopId, setNow } = await aShop();
    const held = await hold(deps, { shopId, request: wash, dropOffAt: MONDAY_8, ...holding });
    expect(held.job.state).toBe('held');
    expect(held.planned?.dropOffAt).toBe(MONDAY_8);
    expect(held.planned?.pickupAt).toBe(held.job.promise?.pickupAt);
    setNow((MONDAY_8 + 10 * 60_000) as Instant);
    const expectedVersion = held.job.version;
    const booked = await confirm(deps, { shopId, jobId: held.job.id, expectedVersion });
    expect(booked.job.state).toBe('booked');
    expect(booked.job.promise?.pickupAt).toBe(held.job.promise?.pickupAt);
    await expect(confirm(deps, { shopId, jobId: held.job.id, expectedVersion })).rejects.toThrow(Stale);
  });

  test('runs out by the clock, and then its slot is free and it cannot be confirmed', async () => {
    const { deps, shopId, setNow } = await aShop();
    const { job } = await hold(deps, { shopId, request: wash, dropOffAt: at('2026-03-03T08:00+01:00'), ...holding });
    setNow((MONDAY_8 + 30 * 60_000) as Instant);
    await expect(confirm(deps, { shopId, jobId: job.id, expectedVersion: job.version })).rejects.toThrow(WrongState);
    expect(await lapseHolds(deps, { shopId })).toEqual([job.id]);
    expect((await deps.store.jobs.get(shopId, job.id))?.value.state).toBe('lapsed');
    expect((await deps.store.plans.current(shopId))?.jobs).toEqual([]);
    expect(await lapseHolds(deps, { shopId })).toEqual([]);
  });

  test('of more than an hour asks for a deposit', async () => {
    const { deps, shopId } = await aShop();
    const long = { shopId, request: wash, dropOffAt: MONDAY_8, ...holding, holdMinutes: 1440 };
    await expect(hold(deps, long)).rejects.toThrow(Invalid);
    const { job } = await hold(deps, { ...long, depositNote: 'card, 50' });
    expect(job.holdUntil).toBe(MONDAY_8 + 1440 * 60_000);
  });

  test('is not promised a pickup the shop is not sure enough of', async () => {
    const { deps, shopId } = await aShop();
    const { choices } = await quote(deps, { shopId, request: wash });
    const { dropOffAt, readyAt } = choices[0]!;
    const tooSoon = hold(deps, { shopId, request: wash, dropOffAt, ...holding, pickupAt: readyAt });
    await expect(tooSoon).rejects.toThrow(/the shop promises at 85 %/);
  });
});

describe('the last slot', () => {
  test('goes to one of many who want it at once, and the others are told what fits next', async () => {
    const { deps, shopId } = await aShop();
    // One wet bay: two washes cannot be dropped off at opening time and both be first.
    const wanting = Array.from({ length: 3 }, () =>
      book(deps, {
        shopId,
        request: wash,
        dropOffAt: MONDAY_8,
        pickupAt: at('2026-03-02T10:30+01:00'),
        depositNote: '',
      }),
    );
    const outcomes = await Promise.allSettled(wanting);
    expect(outcomes.filter((each) => each.status === 'fulfilled')).toHaveLength(1);
    for (const outcome of outcomes) {
      if (outcome.status === 'fulfilled') continue;
      const { kind, nearest } = outcome.reason as { kind: string; nearest: { pickupAt: number } | null };
      expect(kind).toBe('slotGone');
      expect(nearest?.pickupAt).toBeGreaterThan(at('2026-03-02T10:30+01:00'));
    }
    const plan = (await deps.store.plans.current(shopId))!;
    expect(plan.jobs).toHaveLength(1);
    expect(await deps.store.jobs.listOpen(shopId)).toHaveLength(1);
  });
});

describe('a booking', () => {
  test('at an hour that does not fit is told why and what fits', async () => {
    const { deps, shopId } = await aShop();
    const sunday = at('2026-03-08T10:00+01:00');
    const asked = book(deps, { shopId, request: wash, dropOffAt: sunday, pickupAt: null, depositNote: '' });
    const problem = await asked.catch((each: unknown) => each);
    expect(problem).toBeInstanceOf(NothingFits);
    expect((problem as NothingFits).objections.map((each) => each.text)).toEqual([
      'The shop is closed on Sunday 2026-03-08 10:00, and nobody is named to take the car in.',
    ]);
    expect((problem as NothingFits).nearest?.dropOffAt).toBe(at('2026-03-09T08:00+01:00'));
  });

  test('may lie months ahead, across a change of the clocks', async () => {
    const { deps, shopId } = await aShop();
    // Berlin is at UTC+2 from 29 March to 25 October 2026.
    const august = at('2026-08-03T09:00+02:00');
    const sold = await book(deps, { shopId, request: wash, dropOffAt: august, pickupAt: null, depositNote: '' });
    expect(sold.planned?.dropOffAt).toBe(august);
    expect(sold.job.promise!.pickupAt - august).toBeLessThan(4 * 3_600_000);
  });

  test('changed to another day is planned there with a new promise', async () => {
    const { deps, shopId } = await aShop();
    const tuesday = at('2026-03-03T08:00+01:00');
    const { job } = await book(deps, { shopId, request: wash, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
    const late = change(deps, { shopId, jobId: job.id, expectedVersion: job.version, change: { dropOffAt: tuesday } });
    // The promise of Monday stands until it is given up: a change never breaks it silently.
    await expect(late).rejects.toThrow(NothingFits);
    const { job: moved } = await change(deps, {
      shopId,
      jobId: job.id,
      expectedVersion: job.version,
      change: { dropOffAt: tuesday, pickupAt: null },
    });
    expect(moved.promise!.pickupAt - job.promise!.pickupAt).toBe(tuesday - MONDAY_8);
    expect((await deps.store.plans.current(shopId))?.jobs[0]?.dropOffAt).toBe(tuesday);
    const words = await change(deps, {
      shopId,
      jobId: job.id,
      expectedVersion: moved.version,
      change: { notes: 'two keys' },
    });
    expect(words.job.notes).toBe('two keys');
    const stale = change(deps, { shopId, jobId: job.id, expectedVersion: job.version, change: { notes: 'one key' } });
    await expect(stale).rejects.toThrow(Stale);
  });

  test('cancelled frees its slot at once, and a car that never came is a no-show only after its hour', async () => {
    const { deps, shopId, setNow, asked } = await aShop();
    const tuesday = at('2026-03-03T08:00+01:00');
    const sold = { shopId, request: wash, pickupAt: null, depositNote: '' };
    const first = (await book(deps, { ...sold, dropOffAt: MONDAY_8 })).job;
    const second = (await book(deps, { ...sold, dropOffAt: tuesday })).job;
    await cancel(deps, { shopId, jobId: first.id, expectedVersion: first.version, note: 'sold the car' });
    expect((await deps.store.plans.current(shopId))?.jobs.map((each) => each.jobId)).toEqual([second.id]);
    expect(asked).toEqual(['cancelled']);
    const gone = { shopId, jobId: second.id, expectedVersion: second.version, note: '' };
    await expect(noShow(deps, gone)).rejects.toThrow(WrongState);
    setNow((tuesday + 3_600_000) as Instant);
    expect((await noShow(deps, gone)).job.state).toBe('noShow');
  });
});

describe('a walk-in', () => {
  test('is taken when it is ready today, once however often it is sent', async () => {
    const { deps, shopId } = await aShop();
    const sent = { shopId, request: wash, clientId: 'desk-tablet-1', placeId: null };
    const taken = await walkIn(deps, sent);
    expect(taken.job.state).toBe('inShop');
    expect(taken.job.cameAt).toBe(deps.clock());
    expect((await walkIn(deps, sent)).job.id).toBe(taken.job.id);
    expect(await deps.store.jobs.listOpen(shopId)).toHaveLength(1);
  });

  test('with work for days is shown the nearest slot instead', async () => {
    const { deps, shopId } = await aShop();
    const sent = { shopId, request: aRequest('multiLayerCeramic'), clientId: 'desk-tablet-2', placeId: null };
    await expect(walkIn(deps, sent)).rejects.toThrow(NothingFits);
    expect(await deps.store.jobs.listOpen(shopId)).toEqual([]);
  });
});
