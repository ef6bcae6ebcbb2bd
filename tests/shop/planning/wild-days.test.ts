import { expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { FloorFact } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demo } from '../../seed/demo-shop.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

/** Numbers from 0 to 1 that repeat with their seed: a linear congruential generator (Numerical Recipes, "ranqd1"). */
function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

test.each([1, 14])(
  'whatever the floor tells, a plan is published that holds every car or says which it cannot (day %i)',
  async (seed) => {
    const next = numbers(seed);
    const pick = <T>(from: readonly T[]): T => from[Math.floor(next() * from.length)]!;
    const { deps, shopId, setNow } = await aShop();
    const jobs: string[] = [];
    for (const [recipe, hours] of [
      ['walkInWash', 0],
      ['oneLayerCeramic', 1],
      ['maintenance', 2],
    ] as const) {
      const dropOffAt = (MONDAY_8 + hours * 3_600_000) as Instant;
      const { job } = await book(deps, {
        shopId,
        request: aRequest(recipe),
        dropOffAt,
        pickupAt: null,
        depositNote: '',
      });
      jobs.push(job.id);
    }
    let minute = 0;
    for (let k = 0; k < 14; k++) {
      minute += Math.floor(next() * 90);
      setNow((MONDAY_8 + minute * 60_000) as Instant);
      const { value: job } = (await deps.store.jobs.get(shopId, pick(jobs) as never))!;
      const recipe = demo.recipes.find((each) => each.id === job.recipeId)!;
      const operation = pick(recipe.steps).key;
      const fact = FloorFact.parse(
        pick([
          { kind: 'arrived', placeId: pick(demo.places).id },
          { kind: 'moved', placeId: pick(demo.places).id },
          { kind: 'started', operation, by: [pick(demo.technicians).id] },
          { kind: 'started', operation, by: [] },
          { kind: 'finished', operation },
          { kind: 'interrupted', operation, reason: 'the telephone' },
          { kind: 'resumed', operation },
          { kind: 'abandoned', operation, reason: 'out of material' },
          { kind: 'handedOver', operation, to: [pick(demo.technicians).id] },
          { kind: 'failedFinalInspection', reworkMinutes: 45, note: '' },
        ]),
      );
      const occurredAt = (deps.clock() - Math.floor(next() * 3) * 1_200_000) as Instant;
      await recordFact(deps, { shopId, jobId: job.id, clientId: `tablet-${seed}-${k}`, occurredAt, fact });
    }
    const { plan, published } = await replan(deps, { shopId, reason: 'a wild day' });
    expect(published).toBe(true);
    const planned = new Set<string>(plan.jobs.map((each) => each.jobId));
    const open = (await deps.store.jobs.listOpen(shopId)).map((each) => each.value);
    const told = new Set(
      (await listExceptions(deps, { shopId })).map((each) => (each.kind === 'planRejected' ? each.jobId : null)),
    );
    for (const job of open) expect(planned.has(job.id) || told.has(job.id)).toBe(true);
    for (const operation of plan.operations) {
      if (operation.state === 'planned') expect(operation.start).toBeGreaterThanOrEqual(deps.clock() - 60_000);
    }
  },
);
