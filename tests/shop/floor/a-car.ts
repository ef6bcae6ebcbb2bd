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

/** A car that was washed, inspected, polished and wiped; the wipe ended at minute 500 in bay 3. */
export async function aWipedCar(): Promise<Car> {
  const car = await aCar();
  await car.tell(0, { kind: 'arrived', placeId: place('holdFront') });
  await car.done('intake', 1, 15, 'ash');
  await car.tell(18, { kind: 'moved', placeId: place('bay1') });
  await car.done('wheels', 20, 60, 'cedar');
  await car.done('ironTarSpray', 60, 65, 'cedar');
  await car.done('ironTarRinse', 69, 80, 'cedar');
  await car.done('foamWash', 80, 90, 'cedar');
  await car.done('contactWash', 90, 110, 'cedar');
  await car.done('clay', 110, 140, 'cedar');
  await car.done('blowDry', 140, 160, 'cedar');
  await car.tell(215, { kind: 'moved', placeId: place('bay3') });
  await car.done('inspection', 220, 250, 'ash');
  await car.done('mask', 380, 400, 'birch');
  await car.done('testSpot', 400, 410, 'birch');
  await car.done('finishPolish', 410, 440, 'birch');
  await car.done('unmask', 440, 450, 'birch');
  await car.done('dustRemoval', 450, 470, 'birch');
  await car.done('panelWipe', 480, 500, 'birch');
  return car;
}
