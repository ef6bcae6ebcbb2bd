import type { Coating } from '../model/coating.ts';
import type { Job } from '../model/job.ts';
import type { Technician } from '../model/people.ts';
import type { Recipe } from '../model/recipe.ts';
import type { Place, Shop } from '../model/shop.ts';

/** Why a booking cannot be taken as it stands, or what must be asked first. */
export interface BookingObjection {
  /** Path of the field at fault in the job, such as `vehicle.repaints.0`. */
  readonly field: string;
  readonly text: string;
  readonly severity: 'refuse' | 'ask';
}

/** The part of a job that booking checks read. */
export type BookedJob = Pick<
  Job,
  'vehicle' | 'condition' | 'recipeId' | 'addOns' | 'earliestDropOff' | 'dropOffAt' | 'scope' | 'inspection'
>;

/** The part of a shop that booking checks read. */
export interface BookingShop {
  readonly shop: Shop;
  readonly places: readonly Place[];
  readonly technicians: readonly Technician[];
  readonly coatings: readonly Coating[];
  readonly recipes: readonly Recipe[];
  /** Millilitres of each coating that other open jobs will use. */
  readonly bookedMillilitres?: ReadonlyMap<Coating['id'], number>;
}
