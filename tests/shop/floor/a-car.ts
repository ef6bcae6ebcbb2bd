import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { startOperation } from '../../../src/shop/floor/start-operation.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { JobId, OperationKey, PlaceId, TechnicianId } from '../../../src/trade/model/ids.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8, type TestShop } from '../a-shop.ts';

/** Minutes after the shop has opened on Monday. */
export const minute = (minutes: number): Instant => Instant.parse(MONDAY_8 + minutes * 60_000);
export const operation = (key: string) => OperationKey.parse(key);
export const people = (...ids: string[]) => ids.map((id) => TechnicianId.parse(id));
export const place = (id: string) => PlaceId.parse(id);

export interface Car extends TestShop {
  readonly jobId: JobId;
  tell(atMinute: number, fact: FloorFact): ReturnType<typeof recordFact>;
  /** Tells that work began and ended. */
  done(key: string, from: number, to: number, ...by: string[]): Promise<void>;
  start(atMinute: number, key: string, ...by: string[]): ReturnType<typeof startOperation>;
}

/** A car booked for a coating of one layer, in a shop of its own; nothing has happened yet. */
export async function aCar(recipeId = 'oneLayerCeramic'): Promise<Car> {
  const shop = await aShop();
  const { deps, shopId, setNow } = shop;
  const jobId = JobId.parse('car');
  const book = await loadBook(deps.store, shopId, MONDAY_8);
  const job = { ...draftJob(aRequest(recipeId), jobId, book), state: 'booked' as const, dropOffAt: MONDAY_8 };
  await deps.store.jobs.put(shopId, job, 'new');
  let facts = 0;
  const tell: Car['tell'] = (atMinute, fact) => {
    setNow(minute(atMinute));
    return recordFact(deps, { shopId, jobId, clientId: `device-${++facts}`, occurredAt: minute(atMinute), fact });
  };
  return {
    ...shop,
    jobId,
    tell,
    async done(key, from, to, ...by) {
      await tell(from, { kind: 'started', operation: operation(key), by: people(...by) });
      await tell(to, { kind: 'finished', operation: operation(key) });
    },
    start(atMinute, key, ...by) {
      setNow(minute(atMinute));
      const clientId = `device-${++facts}`;
      return startOperation(deps, { shopId, jobId, operation: operation(key), by: people(...by), clientId });
    },
  };
}

/** What happened to a car before it is coated, in minutes after opening: work, who did it, from when to when. */
const BEFORE_COATING = [
  ['intake', 'ash', 1, 15],
  ['wheels', 'cedar', 20, 60],
  ['ironTarSpray', 'cedar', 60, 65],
  ['ironTarRinse', 'cedar', 69, 80],
  ['foamWash', 'cedar', 80, 90],
  ['contactWash', 'cedar', 90, 110],
  ['clay', 'cedar', 110, 140],
  ['blowDry', 'cedar', 140, 160],
  ['inspection', 'ash', 220, 250],
  ['mask', 'birch', 380, 400],
  ['testSpot', 'birch', 400, 410],
  ['finishPolish', 'birch', 410, 440],
  ['unmask', 'birch', 440, 450],
  ['dustRemoval', 'birch', 450, 470],
  ['panelWipe', 'birch', 480, 500],
] as const;

/** A car that was washed, inspected, polished and wiped; the wipe ended at minute 500 in bay 3. All of it is known already. */
export async function aWipedCar(): Promise<Car> {
  const car = await aCar();
  const { deps, shopId, jobId } = car;
  const facts: [number, FloorFact][] = [
    [0, { kind: 'arrived', placeId: place('holdFront') }],
    [18, { kind: 'moved', placeId: place('bay1') }],
    [215, { kind: 'moved', placeId: place('bay3') }],
  ];
  for (const [key, by, from, to] of BEFORE_COATING) {
    facts.push([from, { kind: 'started', operation: operation(key), by: people(by) }]);
    facts.push([to, { kind: 'finished', operation: operation(key) }]);
  }
  await deps.store.transaction(shopId, async (records) => {
    const { value, version } = (await records.jobs.get(shopId, jobId))!;
    await records.jobs.put(shopId, { ...value, state: 'inShop' }, version);
    for (const [index, [at, fact]] of facts.sort(([a], [b]) => a - b).entries()) {
      const occurredAt = minute(at);
      const clientId = `before-coating-${index}`;
      await records.floorEvents.append(shopId, { jobId, clientId, occurredAt, recordedAt: occurredAt, fact });
    }
  });
  car.setNow(minute(500));
  return car;
}
