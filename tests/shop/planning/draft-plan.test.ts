import { expect, test } from 'vitest';
import type { SolveOptions } from '../../../src/engine/solve-options.ts';
import { book } from '../../../src/shop/booking/book.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { draftPlan } from '../../../src/shop/planning/draft-plan.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { warmStartOf } from '../../../src/shop/planning/warm-start.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

const MINUTE = 60_000;

/** A car told for 08:00 that is not there at 08:20, and a planner of which every plan found at once breaks a promise. */
async function aPlannerInAHurry() {
  const { deps, shopId, setNow } = await aShop();
  for (const hours of [0, 2]) {
    const dropOffAt = (MONDAY_8 + hours * 60 * MINUTE) as Instant;
    await book(deps, { shopId, request: aRequest('walkInWash'), dropOffAt, pickupAt: null, depositNote: '' });
  }
  const now = (MONDAY_8 + 20 * MINUTE) as Instant;
  setNow(now);
  const asked: Pick<SolveOptions, 'workLimit' | 'warmStart'>[] = [];
  const plan: typeof deps.planner.plan = async (problem, options, ...more) => {
    asked.push(options);
    const found = await deps.planner.plan(problem, options, ...more);
    if (options.workLimit > 0 || found.objective === null) return found;
    const broken = problem.tiers.indexOf('broken');
    return { ...found, objective: found.objective.map((value, tier) => (tier === broken ? value + 1 : value)) };
  };
  return { deps: { ...deps, planner: { plan } }, standing: await loadBook(deps.store, shopId, now), asked, shopId };
}

test('a plan that breaks a promise is told only after a way out was looked for, from the plan as it stood first', async () => {
  const { deps, standing, asked } = await aPlannerInAHurry();
  const { plan } = await draftPlan(deps, standing, { reason: 'a car is late', workLimit: 0, keepPlan: true });
  const searches = asked.filter(({ workLimit }) => workLimit > 0);
  expect(searches.map(({ warmStart }) => warmStart)).toEqual([
    warmStartOf(formulate(standing), standing.previousPlan!),
  ]);
  expect(plan.objective.find(({ tier }) => tier === 'broken')!.value).toBe(0);
});

test('a car that is some minutes late is awaited: the plan has it come soon, not when it would suit', async () => {
  const { deps, standing } = await aPlannerInAHurry();
  const { plan } = await draftPlan(deps, standing, { reason: 'a car is late', workLimit: 0, keepPlan: true });
  const awaited = standing.jobs.find(({ dropOffAt }) => dropOffAt === MONDAY_8)!;
  const { dropOffAt } = plan.jobs.find(({ jobId }) => jobId === awaited.id)!;
  expect(dropOffAt).toBeGreaterThanOrEqual(standing.now);
  expect(dropOffAt).toBeLessThanOrEqual(standing.now + 30 * MINUTE);
});

test('where the only person who takes cars in is kept by another, a customer waits some minutes at the door', async () => {
  const { deps, shopId, setNow } = await aShop();
  const request = aRequest('walkInWash');
  const sold: Job[] = [];
  for (const minutes of [0, 20]) {
    const dropOffAt = (MONDAY_8 + minutes * MINUTE) as Instant;
    sold.push((await book(deps, { shopId, request, dropOffAt, pickupAt: null, depositNote: '' })).job);
  }
  // Only one is there who takes cars in, and begins a quarter of an hour late.
  const plan = (await deps.store.plans.current(shopId))!;
  const intake = plan.operations.find(({ jobId, kind }) => jobId === sold[0]!.id && kind === 'intake')!;
  for (const { value, version } of await deps.store.technicians.list(shopId)) {
    if (intake.people.includes(value.id)) continue;
    const skills = value.skills.filter(({ skill }) => skill !== 'intake');
    await deps.store.technicians.put(shopId, { ...value, skills }, version);
  }
  const now = (intake.start + 18 * MINUTE) as Instant;
  setNow(now);
  const { placeId } = plan.stays.find(({ jobId }) => jobId === sold[0]!.id)!;
  const tell = (clientId: string, fact: Parameters<typeof recordFact>[1]['fact']) =>
    recordFact(deps, { shopId, jobId: sold[0]!.id, clientId, occurredAt: now, fact });
  await tell('tablet-1', { kind: 'arrived', placeId });
  await tell('tablet-2', { kind: 'started', operation: intake.operation, by: [...intake.people] });
  const draft = await draftPlan(deps, await loadBook(deps.store, shopId, now), {
    reason: 'floor',
    workLimit: 0,
    keepPlan: true,
  });
  const { dropOffAt } = draft.plan.jobs.find(({ jobId }) => jobId === sold[1]!.id)!;
  expect(dropOffAt - sold[1]!.dropOffAt!).toBeGreaterThan(0);
  expect(dropOffAt - sold[1]!.dropOffAt!).toBeLessThanOrEqual(30 * MINUTE);
  expect(draft.released).toEqual([]);
});
