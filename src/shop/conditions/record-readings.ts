import { judgeConditions } from '../../trade/conditions/judge-conditions.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { ConditionsReading } from '../../trade/model/readings.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { laysCoat } from '../floor/gates/conditions-gate.ts';
import { stepOf } from '../floor/recipe-step.ts';
import { carName } from '../jobs/job-view.ts';
import { Invalid } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundShop } from '../records/found.ts';
import { tell } from '../records/tell.ts';

export interface ReadingsRecorded {
  readonly recorded: number;
  /** Planned coatings that the new figures do not allow where they lie, with the figures. */
  readonly against: readonly string[];
}

/** A measured reading speaks for an hour, a forecast for three; common practice. */
const SPEAKS_FOR_MINUTES = { measured: 60, forecast: 180, normal: 0 } as const;

/** Records measured or forecast conditions; a plan that follows them comes by itself. @throws NotFound, Invalid */
export async function recordReadings(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  input: { shopId: ShopId; readings: readonly ConditionsReading[] },
): Promise<ReadingsRecorded> {
  const { shopId, readings } = input;
  const now = deps.clock();
  await foundShop(deps.store, shopId);
  for (const [index, reading] of readings.entries()) {
    if (reading.source === 'measured' && reading.at > now + 2 * 60_000) {
      throw new Invalid('A measured reading cannot lie in the future.', `readings.${index}.at`);
    }
  }
  await inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      for (const reading of readings) await records.readings.append(shopId, reading);
      for (const zone of new Set(readings.map((each) => each.airZoneId))) {
        const own = readings.filter((each) => each.airZoneId === zone);
        await tell(records, shopId, now, 'readings.recorded', zone, { readings: own });
      }
    }),
  );
  const against = await coatingsAgainst(deps, shopId, readings);
  if (readings.length > 0) deps.replanner.ask(shopId, 'conditions');
  return { recorded: readings.length, against };
}

async function coatingsAgainst(
  deps: Pick<ShopDeps, 'store'>,
  shopId: ShopId,
  readings: readonly ConditionsReading[],
): Promise<readonly string[]> {
  const plan = await deps.store.plans.current(shopId);
  if (plan === null) return [];
  const recipes = new Map((await deps.store.recipes.list(shopId)).map((each) => [each.value.id, each.value]));
  const coatings = new Map((await deps.store.coatings.list(shopId)).map((each) => [each.value.id, each.value]));
  const places = new Map((await deps.store.places.list(shopId)).map((each) => [each.value.id, each.value]));
  const jobs = new Map((await deps.store.jobs.listOpen(shopId)).map((each) => [each.value.id, each.value]));
  const texts: string[] = [];
  for (const operation of plan.operations) {
    const job = jobs.get(operation.jobId);
    if (!laysCoat.has(operation.kind) || operation.state !== 'planned' || job === undefined) continue;
    const zone = operation.placeId === null ? null : places.get(operation.placeId)?.airZoneId;
    const recipe = recipes.get(job.recipeId);
    const coatingId = recipe === undefined ? null : stepOf(recipe, operation.operation)?.coatingId;
    const coating = coatingId ? coatings.get(coatingId) : undefined;
    if (coating === undefined) continue;
    for (const reading of readings) {
      const until = reading.at + SPEAKS_FOR_MINUTES[reading.source] * 60_000;
      if (reading.airZoneId !== zone || operation.start >= until || operation.end <= reading.at) continue;
      const verdict = judgeConditions(coating.dataSheet, reading);
      if (verdict.fit) continue;
      const figures = verdict.reasons.map((each) => each.text).join('; ');
      texts.push(`${carName(job)}, ${operation.label}: ${coating.name} is not laid at ${figures}.`);
    }
  }
  return [...new Set(texts)];
}

/** Readings of a span, oldest first. */
export async function listReadings(
  deps: Pick<ShopDeps, 'store'>,
  input: { shopId: ShopId; from: Instant; to: Instant },
): Promise<readonly ConditionsReading[]> {
  await foundShop(deps.store, input.shopId);
  if (input.to <= input.from) throw new Invalid('The span ends after it begins.', 'to');
  return deps.store.readings.list(input.shopId, { from: input.from, to: input.to });
}
