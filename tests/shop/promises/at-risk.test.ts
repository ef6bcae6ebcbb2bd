import { expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { promiseOutlook, warnOfRisks } from '../../../src/shop/promises/at-risk.ts';
import { OperationKey, PlaceId, type TechnicianId } from '../../../src/trade/model/ids.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

const minute = (after: number) => (MONDAY_8 + after * 60_000) as Instant;

async function aWash() {
  const shop = await aShop();
  const { deps, shopId, setNow } = shop;
  const request = aRequest('walkInWash');
  const view = await book(deps, { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
  const jobId = view.job.id;
  let facts = 0;
  const tell = async (at: number, fact: FloorFact) => {
    setNow(minute(at));
    await recordFact(deps, { shopId, jobId, clientId: `tablet-9-${++facts}`, occurredAt: minute(at), fact });
    await replan(deps, { shopId, reason: 'a fact' });
  };
  const outlook = async () => (await promiseOutlook(deps, { shopId }))[0]!;
  return { ...shop, view, jobId, tell, outlook };
}

test('a promise is as sure when nothing has happened as it was when it was given', async () => {
  const { view, outlook } = await aWash();
  const { probabilityPercent, givenPercent, atRisk } = await outlook();
  expect(givenPercent).toBe(view.job.promise!.confidencePercent);
  expect(probabilityPercent).toBe(givenPercent);
  expect(atRisk).toBe(false);
});

test('the desk is warned of a risk once, and the warning passes with the risk', async () => {
  const { deps, shopId, view, tell, outlook } = await aWash();
  const bay = view.stays.at(-1)!.placeId;
  const promisedIn = (view.job.promise!.pickupAt - MONDAY_8) / 60_000;
  expect(await warnOfRisks(deps, { shopId })).toEqual([]);

  // The car comes so late that its work just fits.
  await tell(promisedIn - 60, { kind: 'arrived', placeId: PlaceId.parse('yard1') });
  expect((await outlook()).probabilityPercent).toBeLessThan(75);
  const [warned] = await warnOfRisks(deps, { shopId });
  expect(warned).toMatchObject({ jobId: view.job.id, atRisk: true });
  expect(await warnOfRisks(deps, { shopId })).toEqual([]);
  const told = async () =>
    (await listExceptions(deps, { shopId, includeAcknowledged: true })).filter(({ kind }) => kind === 'promiseAtRisk');
  expect(await told()).toHaveLength(1);

  // Quicker hands than anybody planned for.
  const by = ['cedar' as TechnicianId];
  const work = view.operations.filter(
    ({ people, kind }) => people.length > 0 && kind !== 'handover' && kind !== 'move',
  );
  let at = promisedIn - 59;
  for (const { operation, placeId, kind } of work) {
    if (kind !== 'intake' && placeId !== null) await tell(at, { kind: 'moved', placeId });
    const key = OperationKey.parse(operation);
    await tell(at, { kind: 'started', operation: key, by });
    await tell(++at, { kind: 'finished', operation: key });
  }
  expect(bay).toBeDefined();
  expect((await outlook()).probabilityPercent).toBeGreaterThan(85);
  expect(await warnOfRisks(deps, { shopId })).toEqual([]);
  expect((await told())[0]!.passedAt).toBeDefined();
  expect((await outlook()).atRisk).toBe(false);
});

test('a car that is late in the plan itself is at risk, with what is to blame', async () => {
  const { view, tell, outlook } = await aWash();
  const promisedIn = (view.job.promise!.pickupAt - MONDAY_8) / 60_000;
  await tell(promisedIn, { kind: 'arrived', placeId: PlaceId.parse('yard1') });
  const late = await outlook();
  expect(late).toMatchObject({ atRisk: true, probabilityPercent: 0 });
  expect(late.blame.operations.length + late.blame.resources.length).toBeGreaterThan(0);
  expect(late.medianReadyAt).toBeGreaterThan(late.promisedPickupAt);
});
