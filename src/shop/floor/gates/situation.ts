import type { Formulation } from '../../../trade/formulate/formulation.ts';
import type { Coating } from '../../../trade/model/coating.ts';
import type { OperationKey } from '../../../trade/model/ids.ts';
import type { Job } from '../../../trade/model/job.ts';
import type { Technician } from '../../../trade/model/people.ts';
import type { ConditionsReading } from '../../../trade/model/readings.ts';
import type { Recipe, RecipeStep } from '../../../trade/model/recipe.ts';
import type { AirZone, Place, Shop } from '../../../trade/model/shop.ts';
import type { Instant } from '../../../trade/model/time.ts';
import type { Happened } from '../what-happened.ts';

/** A car in the shop, with what has happened to it. */
export interface CarOnFloor {
  readonly job: Job;
  readonly recipe: Recipe;
  readonly happened: Happened;
}

/** Everything a gate looks at when somebody wants to start an operation at an instant. */
export interface Situation extends CarOnFloor {
  readonly at: Instant;
  readonly shop: Shop;
  readonly operation: OperationKey;
  /** Null for moves and rework. */
  readonly step: RecipeStep | null;
  /** This car alone, formulated at that instant: what is a fact, what waits for what. */
  readonly formulation: Formulation;
  readonly by: readonly Technician[];
  readonly places: readonly Place[];
  readonly airZones: readonly AirZone[];
  readonly coatings: readonly Coating[];
  /** The last measured reading in the zone where the car stands, on this car where there is one. */
  readonly reading: ConditionsReading | null;
  readonly others: readonly CarOnFloor[];
}

/** Where the car stands; null before it has come and after it has left. */
export function placeOfCar(car: CarOnFloor, places: readonly Place[]): Place | null {
  const last = car.happened.stays.at(-1);
  if (last === undefined || last.to !== null) return null;
  return places.find((place) => place.id === last.placeId) ?? null;
}
