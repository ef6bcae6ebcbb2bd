import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import type { ShopDeps } from '../../../src/shop/deps.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import type { JobView } from '../../../src/shop/jobs/job-view.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { Refused, Stale, WrongState } from '../../../src/shop/problems/problems.ts';
import { applyWish } from '../../../src/shop/what-if/apply-wish.ts';
import { whatIf } from '../../../src/shop/what-if/what-if.ts';
import { WhatIf } from '../../../src/shop/what-if/what-if-request.ts';
import { withdrawWish } from '../../../src/shop/what-if/withdraw-wish.ts';
import type { JobId, ShopId } from '../../../src/trade/model/ids.ts';
import { FloorFact } from '../../../src/trade/model/job.ts';
import { type Instant, LocalDate } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, at, MONDAY_8 } from '../a-shop.ts';

const TUESDAY_9 = at('2026-03-03T09:00+01:00');

function take(deps: ShopDeps, shopId: ShopId, dropOffAt: Instant = TUESDAY_9, recipe = 'oneLayerCeramic') {
  return book(deps, { shopId, request: aRequest(recipe), dropOffAt, pickupAt: null, depositNote: '' });
}

/** The first operation in a stay where paint is corrected. */
function correction(view: JobView) {
  return view.operations.find(({ kind }) => kind === 'mask' || kind === 'testSpot' || kind === 'compound')!;
}

async function planned(deps: ShopDeps, shopId: ShopId, jobId: JobId, operation: string) {
  const plan = await deps.store.plans.current(shopId);
  return plan!.operations.find((each) => each.jobId === jobId && each.operation === operation)!;
}

describe('what if it went here', () => {
  test('is answered with what moves and by how much, and nothing is stored', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const work = correction(view);
    const startAt = at('2026-03-04T11:00+01:00');
    const asked = WhatIf.parse({ jobId: view.job.id, operation: work.operation, startAt });
    const answer = await whatIf(deps, { shopId, asked });
    expect(answer).toMatchObject({ allowed: true, reasons: [], planVersion: view.planVersion });
    expect(answer.moves.find((each) => each.operation === work.operation)).toMatchObject({
      laterMinutes: (startAt - work.start) / 60_000,
      before: { start: work.start },
      after: { start: startAt },
    });
    expect(await deps.store.plans.currentVersion(shopId)).toBe(view.planVersion);
    expect((await deps.store.jobs.get(shopId, view.job.id))!.value.wishes).toBeUndefined();
  });

  test('names what a place lacks when it is asked to do what it cannot', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const work = correction(view);
    const asked = WhatIf.parse({ jobId: view.job.id, operation: work.operation, placeId: 'yard1' });
    const answer = await whatIf(deps, { shopId, asked });
    expect(answer.allowed).toBe(false);
    expect(answer.reasons[0]!.text).toMatch(/has no .*(correction|coating|curing)/);
  });

  test('names who has not the skill', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const coat = view.operations.find(({ kind }) => kind === 'coatLayer')!;
    const people = (await deps.store.technicians.list(shopId)).map((each) => each.value);
    const unskilled = people.find(({ skills }) => !skills.some(({ skill }) => skill === 'coating'))!;
    const asked = WhatIf.parse({ jobId: view.job.id, operation: coat.operation, personId: unskilled.id });
    const answer = await whatIf(deps, { shopId, asked });
    expect(answer.allowed).toBe(false);
    expect(answer.reasons[0]!.text).toContain(unskilled.name);
  });

  test('an hour at night is refused with the rule, and the nearest hour that holds is named', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const work = correction(view);
    const startAt = at('2026-03-04T03:00+01:00');
    const answer = await whatIf(deps, {
      shopId,
      asked: WhatIf.parse({ jobId: view.job.id, operation: work.operation, startAt }),
    });
    expect(answer.allowed).toBe(false);
    expect(answer.reasons[0]).toMatchObject({ rule: 'hours', text: 'Nobody is at work at Wed 4 Mar, 03:00.' });
    expect(answer.nearest!.startAt).toBeGreaterThan(startAt);
  });

  test('an hour before the work that comes first is refused for the order', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const startAt = (TUESDAY_9 + 3_600_000) as Instant;
    const asked = WhatIf.parse({ jobId: view.job.id, operation: correction(view).operation, startAt });
    const answer = await whatIf(deps, { shopId, asked });
    expect(answer.reasons[0]).toMatchObject({ rule: 'order', field: 'startAt' });
    expect(answer.reasons[0]!.text).toMatch(/comes before it/);
  });

  test('an hour of drop-off that was told is not moved behind the customer’s back', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const intake = view.operations.find(({ kind }) => kind === 'intake')!;
    const startAt = (intake.start + 3_600_000) as Instant;
    const asked = WhatIf.parse({ jobId: view.job.id, operation: intake.operation, startAt });
    const answer = await whatIf(deps, { shopId, asked });
    expect(answer.reasons).toMatchObject([{ rule: 'toldHour', field: 'startAt' }]);
  });
});

describe('a wish that was applied', () => {
  test('is kept by every later plan, to the minute, until it is withdrawn', async () => {
    const { deps, shopId, setNow } = await aShop();
    const view = await take(deps, shopId);
    const jobId = view.job.id;
    const { operation, start } = correction(view);
    const startAt = (start + 2 * 3_600_000) as Instant;
    const asked = WhatIf.parse({ jobId, operation, startAt });
    const applied = await applyWish(deps, { shopId, asked, expectedPlan: view.planVersion, acceptBroken: true });
    expect(applied.published).toBe(view.planVersion + 1);
    expect((await planned(deps, shopId, jobId, operation)).start).toBe(startAt);

    setNow((MONDAY_8 + 3_600_000) as Instant);
    await take(deps, shopId, at('2026-03-02T10:00+01:00'), 'walkInWash');
    await replan(deps, { shopId, reason: 'test' });
    expect((await planned(deps, shopId, jobId, operation)).start).toBe(startAt);

    const expectedPlan = await deps.store.plans.currentVersion(shopId);
    const withdrawn = await withdrawWish(deps, { shopId, jobId, operation, expectedPlan });
    expect(withdrawn.notRestored).toEqual([]);
    expect((await planned(deps, shopId, jobId, operation)).start).toBe(start);
    expect((await deps.store.jobs.get(shopId, jobId))!.value.wishes).toEqual([]);
  });

  test('is not applied to another plan than was looked at', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const { operation, start } = correction(view);
    const asked = WhatIf.parse({ jobId: view.job.id, operation, notBefore: start });
    const late = applyWish(deps, { shopId, asked, expectedPlan: view.planVersion - 1, acceptBroken: true });
    await expect(late).rejects.toThrow(Stale);
  });

  test('breaks a promise only when somebody accepts that', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const { operation, start } = correction(view);
    const asked = WhatIf.parse({ jobId: view.job.id, operation, notBefore: start + 7 * 24 * 3_600_000 });
    const input = { shopId, asked, expectedPlan: view.planVersion };
    const refused = await applyWish(deps, { ...input, acceptBroken: false }).catch((problem: unknown) => problem);
    expect(refused).toBeInstanceOf(Refused);
    expect((refused as Refused).objections[0]!.rule).toBe('promise');
    const applied = await applyWish(deps, { ...input, acceptBroken: true });
    expect(applied.pickups[0]).toMatchObject({ jobId: view.job.id, broken: true, lateMinutesBefore: 0 });
  });

  test('gives way to an hour told to a customer, and the desk is told', async () => {
    const { deps, shopId } = await aShop();
    const view = await take(deps, shopId);
    const jobId = view.job.id;
    const { operation, start } = correction(view);
    const asked = WhatIf.parse({ jobId, operation, startAt: start });
    await applyWish(deps, { shopId, asked, expectedPlan: view.planVersion, acceptBroken: true });
    // Nobody is there on the day the work was wished for.
    for (const { value, version } of await deps.store.technicians.list(shopId)) {
      const away = { date: LocalDate.parse('2026-03-03'), kind: 'off' as const, parts: [] };
      await deps.store.technicians.put(shopId, { ...value, exceptions: [...value.exceptions, away] }, version);
    }
    const { plan, released } = await replan(deps, { shopId, reason: 'all ill' });
    expect(plan.operations.find((each) => each.operation === operation)!.start).toBeGreaterThan(start);
    expect(released.length).toBeGreaterThan(0);
  });

  test('cannot be made for work that has begun', async () => {
    const { deps, shopId, setNow } = await aShop();
    const view = await take(deps, shopId);
    setNow((TUESDAY_9 + 60_000) as Instant);
    const facts = [
      FloorFact.parse({ kind: 'arrived', placeId: 'yard1' }),
      FloorFact.parse({ kind: 'started', operation: 'intake', by: ['ash'] }),
    ];
    for (const [k, fact] of facts.entries()) {
      const clientId = `device-${k}-fact`;
      await recordFact(deps, { shopId, jobId: view.job.id, clientId, occurredAt: TUESDAY_9, fact });
    }
    await replan(deps, { shopId, reason: 'test' });
    const asked = WhatIf.parse({ jobId: view.job.id, operation: 'intake', personId: 'ash' });
    await expect(whatIf(deps, { shopId, asked })).rejects.toThrow(WrongState);
  });
});
