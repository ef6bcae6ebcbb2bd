import { eventsByJob } from '../../trade/formulate/events-by-job.ts';
import { recordKey, type WorkRecord } from '../../trade/formulate/floor-record.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { FloorEvent } from '../../trade/model/job.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carsInShop } from '../jobs/cars-in-shop.ts';
import { madeOnce } from '../records/made-once.ts';
import type { ShopAsItStands } from '../records/shop-as-it-stands.ts';
import type { PlanIndex } from './plan-index.ts';
import { endedAt, type Happened, whatHappened, workers } from './what-happened.ts';

/** What was told of the cars that are in the shop. */
export function toldOfCarsHere({
  openJobs,
  events,
}: Pick<ShopAsItStands, 'openJobs' | 'events'>): readonly FloorEvent[] {
  return madeOnce(events, 'of cars here', [openJobs], () => {
    const here = carsInShop(openJobs);
    return events.filter(({ jobId }) => here.has(jobId));
  });
}

/** What has happened until now to the cars of which something was told. */
export function happenedTo(told: readonly FloorEvent[], now: Instant): ReadonlyMap<JobId, Happened> {
  return new Map([...eventsByJob(told)].map(([id, own]) => [id, whatHappened(own, now)]));
}

/**
 * Some of a plan's operations, those of cars that are here left out, and all of these cars' as the floor tells them: it may have told
 * any of them for whatever is asked.
 */
export function withCarsHere(
  index: PlanIndex,
  some: readonly PlannedOperation[],
  happened: ReadonlyMap<JobId, Happened>,
  now: Instant,
): readonly PlannedOperation[] {
  const here = [...happened.keys()].flatMap((id) => asTheFloorTells(index.ofCar(id), happened, now));
  return [...some.filter(({ jobId }) => !happened.has(jobId)), ...here];
}

/**
 * The plan's operations as the floor has told them since. A plan follows what was told within moments; until then work that has
 * begun, rests, goes on or is done is shown as such, by whoever does it. Where the plan has heard already nothing changes.
 */
export function asTheFloorTells(
  planned: readonly PlannedOperation[],
  happened: ReadonlyMap<JobId, Happened>,
  now: Instant,
): readonly PlannedOperation[] {
  const told = planned.filter(({ jobId }) => happened.has(jobId));
  const keys = new Set(told.map(({ jobId, operation }) => `${jobId} ${operation}`));
  return planned.map((each) => {
    const record = happened.get(each.jobId)?.work.get(recordKey(each.operation));
    // Of interrupted work that the plan tells as two operations the rest is what goes on.
    if (record === undefined || keys.has(`${each.jobId} ${each.operation}.rest`)) return each;
    return recordKey(each.operation) === each.operation ? whole(each, record, now) : rest(each, record, now);
  });
}

function whole(planned: PlannedOperation, record: WorkRecord, now: Instant): PlannedOperation {
  const { state, pieces } = record;
  const first = pieces[0];
  if (state === 'abandoned' || first === undefined || planned.state === state) return planned;
  const left = planned.end - planned.start;
  const end = endedAt(record) ?? (Math.max(now, first.from + left) as Instant);
  const told = pieces.map(({ from, to }) => ({ from, to: to ?? end }));
  return { ...planned, state, start: first.from, end, pieces: told, people: [...workers(record)] };
}

function rest(planned: PlannedOperation, record: WorkRecord, now: Instant): PlannedOperation {
  const { state, pieces } = record;
  const last = pieces.at(-1);
  if (state === 'abandoned' || state === 'paused' || last === undefined || planned.state === state) return planned;
  const end = endedAt(record) ?? (Math.max(now, last.from + planned.end - planned.start) as Instant);
  return {
    ...planned,
    state,
    start: last.from,
    end,
    pieces: [{ from: last.from, to: end }],
    people: [...workers(record)],
  };
}
