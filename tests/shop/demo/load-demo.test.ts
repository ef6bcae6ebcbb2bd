import { expect, test } from 'vitest';
import { loadDemo } from '../../../src/shop/demo/load-demo.ts';
import { technicianQueue } from '../../../src/shop/floor/queue.ts';
import { timeline } from '../../../src/shop/floor/timeline.ts';
import { listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { promiseOutlook, warnOfRisks } from '../../../src/shop/promises/at-risk.ts';
import { weekUtilisation } from '../../../src/shop/utilisation/week.ts';
import { demo } from '../../seed/demo-shop.ts';
import { aShop, at } from '../a-shop.ts';

test('the demo shop opens on a day in full swing, into an empty database only', async () => {
  const { deps } = await aShop({ empty: true, now: at('2026-03-04T10:20+01:00') });
  const now = deps.clock();
  const { shopId, loaded, jobs } = await loadDemo(deps);
  expect({ loaded, jobs }).toEqual({ loaded: true, jobs: demo.book.length });

  const plan = (await deps.store.plans.current(shopId))!;
  const open = (await deps.store.jobs.listOpen(shopId)).map((each) => each.value);
  expect(open.filter((job) => job.state === 'inShop').length).toBeGreaterThan(0);
  expect(open.length).toBeLessThan(jobs);
  expect(plan.jobs.map((each) => each.jobId).sort()).toEqual(open.map((job) => job.id).sort());
  expect(plan.jobs.filter((each) => each.lateMinutes > 0)).toEqual([]);
  expect(await listExceptions(deps, { shopId })).toEqual([]);
  // As sure as the shop promises, but for the one that the seed says so of.
  const tight = demo.book.filter((each) => each.toldTightly !== undefined).map((each) => each.vehicle.registration);
  const unsure = open.filter((job) => job.promise!.confidencePercent < demo.shop.promiseConfidencePercent);
  expect(tight).toHaveLength(1);
  expect(unsure.map((job) => job.vehicle.registration)).toEqual(tight);

  const today = await timeline(deps, { shopId, date: '2026-03-04' });
  const standing = today.places.flatMap((each) => each.stays).filter((stay) => stay.from <= now && now < stay.to);
  expect(standing.length).toBeGreaterThan(0);
  for (const { stays } of today.places) {
    for (const [index, stay] of stays.slice(1).entries()) expect(stay.from).toBeGreaterThanOrEqual(stays[index]!.to);
  }

  const all = (await deps.store.jobs.list(shopId, { limit: 500 })).items.map((each) => each.value);
  for (const { state, cameAt, leftAt } of all) {
    expect([cameAt !== undefined, leftAt !== undefined]).toEqual([state !== 'booked', state === 'done']);
  }

  const items = await Promise.all(
    demo.technicians.map(({ id }) => technicianQueue(deps, { shopId, technicianId: id, date: '2026-03-04' })),
  );
  const work = items.flatMap((queue) => queue.items);
  expect(work.length).toBeGreaterThan(0);
  expect(work.every((item) => item.planned.people.length > 0)).toBe(true);
  for (const { items: own } of items) expect(own.filter((item) => item.when === 'next').length).toBeLessThanOrEqual(1);

  const week = await weekUtilisation(deps, { shopId, monday: '2026-03-02' });
  for (const bay of week.bays) {
    expect(bay.worked + bay.curing + bay.waiting + bay.blocked + bay.empty).toBe(bay.open);
  }
  // Monday to Friday from 08:00 to 18:30, Saturday from 09:00 to 13:00: the demo's opening hours.
  expect(new Set(week.bays.map((bay) => bay.open))).toEqual(new Set([5 * 630 + 240]));
  for (const person of week.people) expect(person.worked + person.watched + person.free).toBe(person.open);
  expect(week.bays.some((bay) => bay.worked > 0)).toBe(true);

  const outlook = await promiseOutlook(deps, { shopId });
  expect(outlook.map((each) => each.jobId).sort()).toEqual(open.map((job) => job.id).sort());
  const warned = await warnOfRisks(deps, { shopId });
  // Nobody's hour is at risk but the one that was told without room, and that one not hopelessly.
  for (const { jobId } of warned) expect(unsure.map((job) => job.id)).toContain(jobId);
  for (const { probabilityPercent } of outlook) expect(probabilityPercent).toBeGreaterThan(40);
  expect(warned.map((each) => each.jobId)).toEqual(outlook.filter((each) => each.atRisk).map((each) => each.jobId));
  expect(await warnOfRisks(deps, { shopId })).toEqual([]);

  expect(await loadDemo(deps)).toEqual({ shopId, loaded: false, jobs: 0 });
});
