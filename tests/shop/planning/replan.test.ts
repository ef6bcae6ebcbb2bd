import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { takeTimeOff } from '../../../src/shop/floor/time-off.ts';
import { listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { improvePlan } from '../../../src/shop/planning/improve-plan.ts';
import type { Planner } from '../../../src/shop/planning/planner.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { PlanRejected } from '../../../src/shop/problems/problems.ts';
import { promiseOutlook } from '../../../src/shop/promises/at-risk.ts';
import { OperationKey, PlaceId, TechnicianId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demo } from '../../seed/demo-shop.ts';
import { aRequest } from '../a-request.ts';
import { aShop, at, MONDAY_8, type TestShop } from '../a-shop.ts';
import { aWipedCar } from '../floor/a-car.ts';

const later = (minutes: number) => (MONDAY_8 + minutes * 60_000) as Instant;

/** A shop with one wash booked for Monday at opening time. */
async function withOneWash(): Promise<TestShop & { jobId: Awaited<ReturnType<typeof book>>['job']['id'] }> {
  const shop = await aShop();
  const sold = { shopId: shop.shopId, request: aRequest('walkInWash'), pickupAt: null, depositNote: '' };
  const { job } = await book(shop.deps, { ...sold, dropOffAt: MONDAY_8 });
  return { ...shop, jobId: job.id };
}

describe('planning again', () => {
  test('of an empty book gives an empty plan, and the next version', async () => {
    const { deps, shopId } = await aShop();
    expect((await replan(deps, { shopId, reason: 'first' })).plan).toMatchObject({
      version: 1,
      operations: [],
      jobs: [],
    });
    expect((await replan(deps, { shopId, reason: 'second' })).plan.version).toBe(2);
  });

  test('follows what the floor told: work that began late ends late, and stays with who does it', async () => {
    const { deps, shopId, jobId, setNow } = await withOneWash();
    setNow(later(40));
    const tell = { shopId, jobId };
    const arrived = { kind: 'arrived' as const, placeId: PlaceId.parse('holdFront') };
    await recordFact(deps, { ...tell, clientId: 'tablet-1-1', occurredAt: later(30), fact: arrived });
    const started = {
      kind: 'started' as const,
      operation: OperationKey.parse('intake'),
      by: [TechnicianId.parse('ash')],
    };
    await recordFact(deps, { ...tell, clientId: 'tablet-1-2', occurredAt: later(35), fact: started });
    const { plan } = await replan(deps, { shopId, reason: 'the car came late' });
    const intake = plan.operations.find((each) => each.operation === 'intake')!;
    expect(intake).toMatchObject({ state: 'underWay', start: later(35), people: ['ash'] });
    expect(plan.operations.filter((each) => each.state === 'planned').every((each) => each.start >= later(40))).toBe(
      true,
    );
  });

  test('breaks a promise only when it must, lists it, and the desk is to acknowledge it', async () => {
    const { deps, shopId, jobId, setNow } = await withOneWash();
    const promised = (await deps.store.jobs.get(shopId, jobId))!.value.promise!.pickupAt;
    setNow(promised);
    const { broken, released } = await replan(deps, { shopId, reason: 'the car is hours late' });
    expect(broken.map((each) => each.jobId)).toEqual([jobId]);
    expect(broken[0]!.lateMinutes).toBeGreaterThan(0);
    expect(released).toEqual([]);
    const kinds = (await listExceptions(deps, { shopId })).map((each) => each.kind).sort();
    expect(kinds).toEqual(['carMissing', 'promiseBroken']);
    await replan(deps, { shopId, reason: 'again' });
    expect(await listExceptions(deps, { shopId })).toHaveLength(2);
    const [outlook] = await promiseOutlook(deps, { shopId });
    expect(outlook).toMatchObject({ jobId, atRisk: true });
  });

  test('outlives facts that no rule allows: two cars in one place, work never begun, a move during cure', async () => {
    const { deps, shopId, jobId, setNow } = await withOneWash();
    const request = aRequest('oneLayerCeramic');
    const other = await book(deps, { shopId, request, dropOffAt: later(60), pickupAt: null, depositNote: '' });
    setNow(later(120));
    let count = 0;
    for (const [id, minutes, fact] of [
      [jobId, 0, { kind: 'arrived', placeId: PlaceId.parse('bay1') }],
      [other.job.id, 60, { kind: 'arrived', placeId: PlaceId.parse('bay1') }],
      [other.job.id, 70, { kind: 'finished', operation: OperationKey.parse('coat') }],
      [other.job.id, 75, { kind: 'moved', placeId: PlaceId.parse('yard1') }],
      [jobId, 80, { kind: 'resumed', operation: OperationKey.parse('blowDry') }],
    ] as const) {
      await recordFact(deps, { shopId, jobId: id, clientId: `tablet-2-${++count}`, occurredAt: later(minutes), fact });
    }
    const { published, plan } = await replan(deps, { shopId, reason: 'a wild morning' });
    expect(published).toBe(true);
    // The car that was moved between wipe and cure can neither stay nor go: it is set aside for a person.
    expect(plan.jobs.map((each) => each.jobId)).toEqual([jobId]);
    const rejected = (await listExceptions(deps, { shopId })).filter((each) => each.kind === 'planRejected');
    expect(rejected.map((each) => each.jobId)).toEqual([other.job.id]);
    const next = at('2026-03-04T08:00+01:00');
    const sold = await book(deps, {
      shopId,
      request: aRequest('walkInWash'),
      dropOffAt: next,
      pickupAt: null,
      depositNote: '',
    });
    expect(sold.planned?.dropOffAt).toBe(next);
  });

  test('that gives a plan which breaks a rule stores nothing: it is logged, and the desk is told', async () => {
    const { deps, shopId } = await withOneWash();
    const errors: string[] = [];
    const breaking: Planner = {
      ...deps.planner,
      plan: async (problem, options) => {
        const solution = await deps.planner.plan(problem, options);
        // Everybody does everything at once.
        const operations = solution.schedule!.operations.map((each) => each && { ...each, start: 0, end: 0 });
        return { ...solution, schedule: { ...solution.schedule!, operations } };
      },
    };
    const before = await deps.store.plans.currentVersion(shopId);
    const log = { ...deps.log, error: (_: object, words: string) => errors.push(words) };
    const broken = replan({ ...deps, planner: breaking, log }, { shopId, reason: 'a broken solver' });
    await expect(broken).rejects.toThrow(PlanRejected);
    expect(await deps.store.plans.currentVersion(shopId)).toBe(before);
    expect(errors).toHaveLength(1);
    expect((await listExceptions(deps, { shopId })).map((each) => each.kind)).toEqual(['planRejected']);
  });

  test('twice from the same book gives the same plan', async () => {
    const { deps, shopId } = await withOneWash();
    const first = (await replan(deps, { shopId, reason: 'once' })).plan;
    const second = (await replan(deps, { shopId, reason: 'once' })).plan;
    expect(second).toEqual({ ...first, version: first.version + 1 });
  });

  test('races with a booking and loses nothing of it', async () => {
    const { deps, shopId } = await withOneWash();
    const tuesday = at('2026-03-03T08:00+01:00');
    const [replanned, booked] = await Promise.all([
      replan(deps, { shopId, reason: 'meanwhile' }),
      book(deps, { shopId, request: aRequest('walkInWash'), dropOffAt: tuesday, pickupAt: null, depositNote: '' }),
    ]);
    expect(replanned.published).toBe(true);
    const { plan } = await replan(deps, { shopId, reason: 'after' });
    expect(plan.jobs.map((each) => each.jobId)).toContain(booked.job.id);
  });
});

describe('two cars told to stand in one place', () => {
  test('are planned one after the other or one is set aside, and the plan is published', async () => {
    const { deps, shopId, jobId, setNow } = await withOneWash();
    const tell = { shopId, occurredAt: later(10), fact: { kind: 'arrived' as const, placeId: PlaceId.parse('bay1') } };
    const other = await book(deps, {
      shopId,
      request: aRequest('walkInWash'),
      dropOffAt: later(180),
      pickupAt: null,
      depositNote: '',
    });
    setNow(later(20));
    await recordFact(deps, { ...tell, jobId, clientId: 'tablet-3-1' });
    await recordFact(deps, { ...tell, jobId: other.job.id, clientId: 'tablet-3-2' });
    const { published, plan } = await replan(deps, { shopId, reason: 'two in one place' });
    expect(published).toBe(true);
    expect(plan.jobs.length).toBeGreaterThan(0);
  });
});

describe('looking for a better plan', () => {
  test('publishes one that is better', async () => {
    const { deps, shopId } = await withOneWash();
    const hasty: Planner = {
      ...deps.planner,
      plan: async (problem, options) => {
        const solution = await deps.planner.plan(problem, options);
        // As if the first plan had been late with everything.
        return { ...solution, objective: solution.objective!.map((value) => value + 1000) };
      },
    };
    const { plan: first } = await replan({ ...deps, planner: hasty }, { shopId, reason: 'in a hurry' });
    const { plan, published } = await improvePlan(deps, { shopId });
    expect(published).toBe(true);
    expect(plan.version).toBe(first.version + 1);
  });

  test('publishes nothing once it was cancelled: whoever cancelled knows of something new', async () => {
    const { deps, shopId } = await withOneWash();
    const version = await deps.store.plans.currentVersion(shopId);
    const cancelled = new AbortController();
    const slow: Planner = {
      ...deps.planner,
      plan: async (problem, options) => {
        const solution = await deps.planner.plan(problem, options);
        cancelled.abort();
        return solution;
      },
    };
    const improving = improvePlan({ ...deps, planner: slow }, { shopId, signal: cancelled.signal });
    await expect(improving).rejects.toThrow(/cancelled/);
    expect(await deps.store.plans.currentVersion(shopId)).toBe(version);
  });

  test('publishes nothing when there is none', async () => {
    const { deps, shopId } = await withOneWash();
    await replan(deps, { shopId, reason: 'prompt' });
    const version = await deps.store.plans.currentVersion(shopId);
    expect((await improvePlan(deps, { shopId })).published).toBe(false);
    expect(await deps.store.plans.currentVersion(shopId)).toBe(version);
  });
});

describe('a wet bay that is closed on a day for which a wash was booked', () => {
  test('has the wash planned on another, and the broken promise listed', async () => {
    const { deps, shopId } = await aShop();
    const tuesday = at('2026-03-03T09:00+01:00');
    const request = aRequest('walkInWash');
    const { job } = await book(deps, { shopId, request, dropOffAt: tuesday, pickupAt: null, depositNote: '' });
    const wet = (await deps.store.places.list(shopId)).filter((each) => each.value.capabilities.includes('wet'));
    for (const { value, version } of wet) {
      const closures = [{ date: '2026-03-03', kind: 'off' as const, parts: [] }];
      await deps.store.places.put(shopId, { ...value, closures }, version);
    }
    const { plan, broken } = await replan(deps, { shopId, reason: 'the drain is being dug up' });
    const washed = plan.operations.find((each) => each.operation === 'maintenanceWash')!;
    expect(washed.start).toBeGreaterThanOrEqual(at('2026-03-04T00:00+01:00'));
    expect(broken.map((each) => each.jobId)).toEqual([job.id]);
    const kinds = (await listExceptions(deps, { shopId })).map((each) => each.kind);
    expect(kinds).toContain('promiseBroken');
  });
});

describe('a day on which everybody is away after all', () => {
  test('has the drop-off hours told for it released, and those of no other day', async () => {
    const { deps, shopId } = await aShop();
    const sold = { shopId, request: aRequest('walkInWash'), pickupAt: null, depositNote: '' };
    const { job: tuesday } = await book(deps, { ...sold, dropOffAt: at('2026-03-03T09:00+01:00') });
    const { job: thursday } = await book(deps, { ...sold, dropOffAt: at('2026-03-05T09:00+01:00') });
    for (const { value, version } of await deps.store.technicians.list(shopId)) {
      const exceptions = [{ date: '2026-03-03', kind: 'off' as const, parts: [] }];
      await deps.store.technicians.put(shopId, { ...value, exceptions }, version);
    }
    const { plan, released } = await replan(deps, { shopId, reason: 'a wedding' });
    expect(released).toHaveLength(1);
    const told = (await listExceptions(deps, { shopId })).filter((each) => each.kind === 'freezeReleased');
    expect(told.map((each) => each.jobId)).toEqual([tuesday.id]);
    const dropOff = (id: typeof tuesday.id) => plan.jobs.find((each) => each.jobId === id)!.dropOffAt;
    expect(dropOff(tuesday.id)).toBeGreaterThanOrEqual(at('2026-03-04T08:00+01:00'));
    expect(dropOff(thursday.id)).toBe(thursday.dropOffAt);
  });
});

describe('a final inspection that failed', () => {
  test('brings rework into the plan, and the car is ready later', async () => {
    const car = await aWipedCar();
    const { deps, shopId, jobId } = car;
    await car.done('coat', 511, 580, 'birch');
    await car.done('lampCure', 700, 850, 'birch');
    await car.done('finalInspection', 1500, 1530, 'ash');
    const { plan: before } = await replan(deps, { shopId, reason: 'inspected' });
    await car.tell(1531, { kind: 'failedFinalInspection', reworkMinutes: 60, note: 'high spot on the roof' });
    const { plan } = await replan(deps, { shopId, reason: 'failed' });
    const rework = plan.operations.filter((each) => each.kind === 'rework');
    expect(rework).toHaveLength(1);
    expect(rework[0]!.people.length).toBeGreaterThan(0);
    const ready = (from: typeof plan) => from.jobs.find((each) => each.jobId === jobId)!.readyAt;
    expect(ready(plan)).toBeGreaterThan(ready(before));
  });
});

describe('a sick technician', () => {
  test('is given no work from now on, and the others take it', async () => {
    const { deps, shopId, jobId } = await withOneWash();
    const washers = (await deps.store.plans.current(shopId))!.operations.find(
      (each) => each.operation === 'maintenanceWash',
    )!;
    const sick = washers.people[0]!;
    const dayAfter = at('2026-03-04T00:00+01:00');
    const { plan } = await takeTimeOff(deps, {
      shopId,
      technicianId: sick,
      from: MONDAY_8,
      to: dayAfter,
      note: 'sick',
    });
    const own = plan.operations.filter((each) => each.jobId === jobId);
    expect(own.length).toBeGreaterThan(0);
    expect(own.some((each) => each.people.includes(sick))).toBe(false);
    const { value } = (await deps.store.technicians.get(shopId, sick))!;
    const before = demo.technicians.find((each) => each.id === sick)!.exceptions.length;
    // Monday from 08:00, and the whole of Tuesday.
    expect(value.exceptions.slice(before)).toEqual([
      { date: '2026-03-02', kind: 'off', parts: [{ from: '08:00', to: '24:00' }], note: 'sick' },
      { date: '2026-03-03', kind: 'off', parts: [], note: 'sick' },
    ]);
  });

  test('who is at work on a car keeps it until a person hands it over, and the desk is asked to', async () => {
    const car = await aWipedCar();
    const { deps, shopId, jobId } = car;
    await car.tell(511, { kind: 'started', operation: OperationKey.parse('coat'), by: [TechnicianId.parse('birch')] });
    await replan(deps, { shopId, reason: 'coating' });
    const from = deps.clock();
    const to = at('2026-03-03T00:00+01:00');
    const technicianId = TechnicianId.parse('birch');
    await takeTimeOff(deps, { shopId, technicianId, from, to, note: 'sick' });
    const texts = (await listExceptions(deps, { shopId }))
      .filter((each) => each.jobId === jobId)
      .map((each) => each.text);
    expect(texts.some((text) => /is away and still at .*hand it over/.test(text))).toBe(true);
    await car.tell(515, { kind: 'handedOver', operation: OperationKey.parse('coat'), to: [TechnicianId.parse('ash')] });
    const { plan } = await replan(deps, { shopId, reason: 'handed over' });
    const rest = plan.operations.filter((each) => each.operation.startsWith('coat') && each.end > deps.clock());
    expect(rest.map((each) => each.people)).toEqual([['ash']]);
  });
});
