import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { book } from '../../../src/shop/booking/book.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { firstPlan } from '../../../src/shop/planning/replan.ts';
import { warmStartOf } from '../../../src/shop/planning/warm-start.ts';
import { waysToGoOn } from '../../../src/shop/planning/ways-to-go-on.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import type { FloorFact, Job } from '../../../src/trade/model/job.ts';
import type { PlannedOperation } from '../../../src/trade/model/plan.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

const MINUTE = 60_000;
/** The wash runs over by so much. */
const OVER = 12 * MINUTE;

/** Three cars that are washed on Monday; the first is here and its wash goes on past its planned end. */
async function aWashThatRunsOver() {
  const { deps, shopId, setNow } = await aShop();
  const request = aRequest('walkInWash');
  const sold: Job[] = [];
  for (const hours of [0, 2, 4]) {
    const dropOffAt = (MONDAY_8 + hours * 60 * MINUTE) as Instant;
    sold.push((await book(deps, { shopId, request, dropOffAt, pickupAt: null, depositNote: '' })).job);
  }
  const before = (await deps.store.plans.current(shopId))!;
  const first = before.operations.filter(({ jobId }) => jobId === sold[0]!.id).sort((a, b) => a.start - b.start);
  let facts = 0;
  const tell = (at: Instant, fact: FloorFact) => {
    setNow(at);
    return recordFact(deps, { shopId, jobId: sold[0]!.id, clientId: `tablet-${++facts}`, occurredAt: at, fact });
  };
  await tell(first[0]!.start, {
    kind: 'arrived',
    placeId: before.stays.find(({ jobId }) => jobId === sold[0]!.id)!.placeId,
  });
  const last = first.findIndex(({ kind, people }) => kind !== 'intake' && kind !== 'move' && people.length > 0);
  let wash: PlannedOperation = first[0]!;
  for (const work of first.slice(0, last + 1)) {
    if (work.kind === 'move') await tell(work.end, { kind: 'moved', placeId: work.placeId! });
    else if (work.people.length > 0) {
      await tell(work.start, { kind: 'started', operation: work.operation, by: [...work.people] });
      if (work !== first[last]) await tell(work.end, { kind: 'finished', operation: work.operation });
      wash = work;
    }
  }
  const now = (wash.end + OVER) as Instant;
  setNow(now);
  return { deps, shopId, sold, before, wash, now };
}

describe('a plan that something ran over in', () => {
  test('breaks a rule as it stands, and none when it is carried on', async () => {
    const { deps, shopId, before, now } = await aWashThatRunsOver();
    const formulation = formulate(await loadBook(deps.store, shopId, now));
    expect(check(formulation.problem, warmStartOf(formulation, before))).not.toEqual([]);
    const [standing, inOrder] = waysToGoOn(formulation, before);
    expect(standing).toEqual(warmStartOf(formulation, before));
    expect(check(formulation.problem, inOrder!)).toEqual([]);
  });

  test('is gone on with: what waits for it comes later by little more than it ran over, and every other promise is kept', async () => {
    const { deps, shopId, before, sold } = await aWashThatRunsOver();
    const { plan } = await firstPlan(deps, { shopId, reason: 'a wash ran over' });
    // It is planned to need some minutes more, as much again as every third of them.
    const most = 2 * OVER;
    const startOf = new Map(before.operations.map((each) => [`${each.jobId} ${each.operation}`, each.start]));
    for (const { jobId, operation, start, state } of plan.operations) {
      const was = startOf.get(`${jobId} ${operation}`);
      if (was === undefined || state !== 'planned') continue;
      expect(start - was, `${jobId} ${operation}`).toBeLessThanOrEqual(most);
    }
    const late = plan.jobs.filter(({ lateMinutes }) => lateMinutes > 0);
    expect(late.filter(({ jobId }) => jobId !== sold[0]!.id)).toEqual([]);
  });
});
