import type { ShopId } from '../../trade/model/ids.ts';
import type { ConditionsReading } from '../../trade/model/readings.ts';
import type { ShopDeps } from '../deps.ts';

export interface ReadingsRecorded {
  readonly recorded: number;
  /** Planned coatings that the new figures do not allow where they lie, with the figures. */
  readonly against: readonly string[];
}

/** Records measured or forecast conditions; a plan that follows them comes by itself. @throws NotFound, Invalid */
export async function recordReadings(
  deps: ShopDeps,
  input: { shopId: ShopId; readings: readonly ConditionsReading[] },
): Promise<ReadingsRecorded> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}

/** Readings of a span, oldest first. */
export async function listReadings(
  deps: ShopDeps,
  input: { shopId: ShopId; from: number; to: number },
): Promise<readonly ConditionsReading[]> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
