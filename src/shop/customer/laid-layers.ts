import type { Records } from '../../store/store.ts';
import type { LaidLayer } from '../../trade/cure/aftercare-times.ts';
import { yardAir } from '../../trade/formulate/coating-times.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Recipe, WorkKind } from '../../trade/model/recipe.ts';
import type { AirConditions } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import { stepOf } from '../floor/recipe-step.ts';
import { endedAt, type Happened } from '../floor/what-happened.ts';

const LAYS: ReadonlySet<WorkKind> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

/**
 * Every layer on a car, by the floor's record, and those still planned, by the plan. The air is that of the room where it
 * was laid and the yard's, since nobody knows what the car drives out into.
 */
export async function laidLayers(
  records: Records,
  of: { shopId: ShopId; jobId: JobId },
  recipe: Recipe,
  happened: Happened,
  planned: readonly PlannedOperation[],
): Promise<{ layers: readonly LaidLayer[]; expected: boolean }> {
  const ended = [...happened.work].flatMap(([operation, record]) => {
    const at = record.state === 'finished' ? endedAt(record) : null;
    return at === null ? [] : [{ operation, at, placeId: standsIn(happened, at) }];
  });
  const done = new Set<string>(ended.map((each) => each.operation));
  const ahead = planned
    .filter((each) => each.state !== 'finished' && !done.has(each.operation))
    .map(({ operation, end, placeId }) => ({ operation, at: end, placeId }));
  const layers: LaidLayer[] = [];
  let expected = false;
  for (const { operation, at, placeId } of [...ended, ...ahead]) {
    const step = stepOf(recipe, operation);
    if (step === null || step.coatingId === null || !LAYS.has(step.kind)) continue;
    const coating = await records.coatings.get(of.shopId, step.coatingId);
    if (coating === null) continue;
    const room = await airOf(records, of.shopId, placeId);
    layers.push({ sheet: coating.value.dataSheet, laidAt: at, air: room === null ? [yardAir] : [room, yardAir] });
    expected ||= !done.has(operation);
  }
  return { layers, expected };
}

function standsIn(happened: Happened, at: Instant) {
  return happened.stays.find((stay) => stay.from <= at && (stay.to === null || at <= stay.to))?.placeId ?? null;
}

async function airOf(
  records: Records,
  shopId: ShopId,
  placeId: PlannedOperation['placeId'],
): Promise<AirConditions | null> {
  const place = placeId === null ? null : await records.places.get(shopId, placeId);
  const zoneId = place?.value.airZoneId ?? null;
  return zoneId === null ? null : ((await records.airZones.get(shopId, zoneId))?.value.setPoint ?? null);
}
