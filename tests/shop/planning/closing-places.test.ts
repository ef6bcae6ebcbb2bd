import { expect, test } from 'vitest';
import { draftPlan } from '../../../src/shop/planning/draft-plan.ts';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { openResidentBook } from '../../../src/shop/planning/open-resident-book.ts';
import { aJob, at, floor } from '../../trade/formulate/a-job.ts';
import { aPlace, smallShop } from '../../trade/formulate/small-shop.ts';

const log = { info() {}, warn() {}, error() {} };
const deps = { planner: createInProcessPlanner(), log, seed: 7, budget: { timeLimitMs: 60_000 } };
const NOW = '2026-06-01T06:40Z';

const wetBayClosed = (from: string) =>
  aPlace('wetBay', ['wet'], {
    closures: [{ date: '2026-06-01', kind: 'off', parts: [{ from, to: '12:00' }], note: 'the drain' }],
  });

/** The only wet bay closes at 09:00 in Berlin until noon; a car stands in it whose wash takes until 09:40, another comes three days later. */
const book = smallShop({
  now: at(NOW),
  places: [
    wetBayClosed('09:00'),
    aPlace('coatBay', ['coating', 'correction', 'curing']),
    aPlace('space', ['hold'], { kind: 'parking' }),
  ],
  jobs: [
    aJob('small', { state: 'inShop' }),
    aJob('small', { id: 'job2', dropOffAt: at('2026-06-04T06:00Z'), earliestDropOff: at('2026-06-04T06:00Z') }),
  ],
  events: floor(
    ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'wetBay' }],
    ['2026-06-01T06:00Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
    ['2026-06-01T06:30Z', { kind: 'finished', operation: 'intake' }],
  ),
});

test('a bay that closes around a car whose work there is not done keeps the car, the others keep their hours, and the desk is told', async () => {
  const { plan, exceptions } = await draftPlan(deps, book, { reason: 'the drain', workLimit: 1_000 });
  expect(plan.jobs.map(({ jobId }) => jobId).sort()).toEqual(['job1', 'job2']);
  expect(plan.jobs.find(({ jobId }) => jobId === 'job2')!.dropOffAt).toBe(at('2026-06-04T06:00Z'));
  expect(exceptions.map(({ kind, jobId }) => [kind, jobId])).toEqual([['freezeReleased', 'job1']]);
  expect(exceptions[0]!.text).toContain('Move it, or have the place opened.');
});

test('a plan with such a car in it is open at the desk', async () => {
  const { plan } = await draftPlan(deps, book, { reason: 'the drain', workLimit: 1_000 });
  const resident = openResidentBook({ ...book, previousPlan: plan }, 7)!;
  expect(resident.formulation.jobs.map(({ job }) => job.id)).toEqual(['job1', 'job2']);
});

test('a car whose work is done before the bay closes leaves it', async () => {
  const [, ...others] = book.places;
  const inTime = { ...book, places: [wetBayClosed('10:00'), ...others] };
  const { plan, exceptions } = await draftPlan(deps, inTime, { reason: 'the drain', workLimit: 1_000 });
  expect(exceptions).toEqual([]);
  const stay = plan.stays.find(({ jobId, placeId }) => jobId === 'job1' && placeId === 'wetBay')!;
  expect(stay.to).toBeLessThanOrEqual(at('2026-06-01T08:00Z'));
});
