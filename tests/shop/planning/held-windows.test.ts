import { describe, expect, test } from 'vitest';
import { draftPlan } from '../../../src/shop/planning/draft-plan.ts';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { aJob, at, floorOf } from '../../trade/formulate/a-job.ts';
import { aLag, aRecipe, aStep, smallShop } from '../../trade/formulate/small-shop.ts';

/** A remover is on, rinsed by whoever sprayed it three to ten minutes later (common practice); dried, it is wetted and washed off. */
const decontamination = aRecipe({
  id: 'decontamination',
  stays: [{ key: 'wash', needs: ['wet'], optional: false }],
  steps: [
    aStep('intake', 'intake', 'wash', 10, { skill: 'intake' }),
    aStep('spray', 'ironTarRemover', 'wash', 5, { skill: 'wash' }),
    aStep('again', 'ironTarRemover', 'wash', 5, { skill: 'wash', presence: { when: 'remedy' } }),
    aStep('rinse', 'contactWash', 'wash', 30, { skill: 'wash' }),
    aStep('handover', 'handover', 'wash', 10, { skill: 'intake' }),
  ],
  lags: [
    aLag('spray end', 'rinse start', 3, 10, { remedy: ['again'], sameCrew: 'held' }),
    aLag('again end', 'rinse start', 3, 10),
  ],
  airSpans: [],
  stills: [],
});
/** An hour of washing by the only person who washes. */
const wash = aRecipe({
  id: 'washOnly',
  stays: [{ key: 'stand', needs: ['coating'], optional: false }],
  steps: [
    aStep('intake', 'intake', 'stand', 10, { skill: 'intake' }),
    aStep('wash', 'contactWash', 'stand', 60, { skill: 'wash' }),
    aStep('handover', 'handover', 'stand', 10, { skill: 'intake' }),
  ],
  lags: [],
  airSpans: [],
  stills: [],
});

const log = { info() {}, warn() {}, error() {} };
const deps = { planner: createInProcessPlanner(), log, seed: 7, budget: { timeLimitMs: 60_000 } };
const promise = (iso: string) => ({ pickupAt: at(iso), confidencePercent: 90, givenAt: at('2026-05-20T08:00Z') });

/** Bo has sprayed a car by 08:00Z; another waits for his wash, of which a promise would be broken by a quarter of an hour. */
async function plannedAt(now: string) {
  const sprayed = aJob('decontamination', { state: 'inShop', promise: promise('2026-06-02T14:00Z') });
  const waiting = aJob('washOnly', { id: 'job2', state: 'inShop', promise: promise('2026-06-01T09:25Z') });
  const events = [
    ...floorOf(
      'job1',
      ['2026-06-01T07:00Z', { kind: 'arrived', placeId: 'wetBay' }],
      ['2026-06-01T07:00Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
      ['2026-06-01T07:10Z', { kind: 'finished', operation: 'intake' }],
      ['2026-06-01T07:55Z', { kind: 'started', operation: 'spray', by: ['bo'] }],
      ['2026-06-01T08:00Z', { kind: 'finished', operation: 'spray' }],
    ),
    ...floorOf(
      'job2',
      ['2026-06-01T07:10Z', { kind: 'arrived', placeId: 'coatBay' }],
      ['2026-06-01T07:10Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
      ['2026-06-01T07:20Z', { kind: 'finished', operation: 'intake' }],
    ),
  ];
  const shop = smallShop({ now: at(now), jobs: [sprayed, waiting], events, recipes: [decontamination, wash] });
  const { plan } = await draftPlan(deps, shop, { reason: 'the remover is on', workLimit: 5_000 });
  return {
    startOf: (key: string) => plan.operations.find(({ operation }) => operation === key)?.start,
    late: plan.jobs.filter(({ lateMinutes }) => lateMinutes > 0).map(({ jobId }) => jobId),
  };
}

describe('whoever sprayed a remover is wanted for a car that is promised soon', () => {
  test('and rinses it off first while it is wet: paint is no price for a quarter of an hour', async () => {
    const { startOf, late } = await plannedAt('2026-06-01T08:04Z');
    expect(startOf('again')).toBeUndefined();
    expect(startOf('rinse')).toBeLessThanOrEqual(at('2026-06-01T08:10Z'));
    expect(late).toEqual(['job2']);
  });

  test('and goes to the promised car when it has dried: it is wetted and washed off afterwards', async () => {
    const { startOf, late } = await plannedAt('2026-06-01T08:11Z');
    expect(startOf('wash')).toBe(at('2026-06-01T08:11Z'));
    expect(startOf('again')).toBe(at('2026-06-01T09:11Z'));
    expect(late).toEqual([]);
  });
});
