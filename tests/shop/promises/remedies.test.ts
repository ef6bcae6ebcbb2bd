import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { book } from '../../../src/shop/booking/book.ts';
import { floorHistory } from '../../../src/shop/feeds/floor-history.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { warmStartOf } from '../../../src/shop/planning/warm-start.ts';
import { promiseOutlook } from '../../../src/shop/promises/at-risk.ts';
import { applyRemedy, remediesFor } from '../../../src/shop/promises/remedies.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { PlaceId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

/** A polished car that came hours after its hour, and a wash that was booked for the same day. */
async function aLateCar() {
  const shop = await aShop();
  const { deps, shopId, setNow } = shop;
  const sale = { shopId, pickupAt: null, depositNote: '' };
  const view = await book(deps, { ...sale, request: aRequest('maintenance'), dropOffAt: MONDAY_8 });
  const wash = await book(deps, {
    ...sale,
    request: aRequest('walkInWash'),
    dropOffAt: (MONDAY_8 + 5 * 3_600_000) as Instant,
  });
  const jobId = view.job.id;
  const comesAt = (view.job.promise!.pickupAt - (view.planned!.readyAt - view.planned!.dropOffAt)) as Instant;
  setNow(comesAt);
  const fact = { kind: 'arrived', placeId: PlaceId.parse('yard1') } as const;
  await recordFact(deps, { shopId, jobId, clientId: 'tablet-late-1', occurredAt: comesAt, fact });
  await replan(deps, { shopId, reason: 'it came late' });
  return { ...shop, jobId, view, wash };
}

describe('remedies of a promise at risk', () => {
  test('are planned and simulated, help, and change nothing', async () => {
    const { deps, shopId, jobId } = await aLateCar();
    const version = await deps.store.plans.currentVersion(shopId);
    const { remedies, probabilityPercent, planVersion } = await remediesFor(deps, { shopId, jobId });
    expect(probabilityPercent).toBeLessThan(75);
    expect(remedies.length).toBeGreaterThan(0);
    for (const { percentWith, costs } of remedies) {
      expect(percentWith).toBeGreaterThanOrEqual(probabilityPercent + 3);
      for (const cost of costs) expect(cost.percentAfter).toBeLessThan(cost.percentBefore);
    }
    expect(remedies.map(({ percentWith }) => percentWith)).toEqual(
      remedies.map(({ percentWith }) => percentWith).sort((a, b) => b - a),
    );
    expect(planVersion).toBe(version);
    expect(await deps.store.plans.currentVersion(shopId)).toBe(version);
  });

  test('of a later pickup is told as surely as the shop promises, and kept as another promise with the first beside it', async () => {
    const { deps, shopId, jobId, view } = await aLateCar();
    const { remedies, planVersion } = await remediesFor(deps, { shopId, jobId });
    const later = remedies.find(({ kind }) => kind === 'laterPickup')!;
    expect(later.percentWith).toBeGreaterThanOrEqual(80);
    expect(later.pickupAt).toBeGreaterThan(view.job.promise!.pickupAt);
    const input = { shopId, jobId, key: later.key, planVersion, by: 'Nina at the desk' };
    const done = await applyRemedy(deps, input);
    expect(done.planVersion).toBe(planVersion + 1);
    expect(done.job.promise).toMatchObject({ pickupAt: later.pickupAt, confidencePercent: later.percentWith });
    expect(done.job.formerPromises).toEqual([view.job.promise]);
    const outlook = (await promiseOutlook(deps, { shopId })).find((each) => each.jobId === jobId)!;
    expect(outlook.atRisk).toBe(false);

    // It obeys every rule, and who decided it can be read on the car.
    const book = await loadBook(deps.store, shopId, deps.clock());
    const formulation = formulate(book);
    expect(check(formulation.problem, warmStartOf(formulation, book.previousPlan!))).toEqual([]);
    const history = await floorHistory(deps, { shopId, jobId, after: 0 });
    const { fact } = history.at(-1)!;
    expect(fact.kind === 'noted' && fact.text).toMatch(/^Nina at the desk decided: Another pickup is promised/);

    // Another plan stands now.
    await expect(applyRemedy(deps, input)).rejects.toThrow(/plan/);
  });

  test('are asked only of a car that has a promise', async () => {
    const { deps, shopId } = await aLateCar();
    await expect(remediesFor(deps, { shopId, jobId: 'nobody' as never })).rejects.toThrow(/job/);
  });
});
