import type { Car } from './car.ts';
import { Route } from './route.ts';
import type { SettledWork } from './settle.ts';
import type { StepInstance } from './step-instance.ts';

/** A stay of the job, before it has an index. */
export interface JobStay {
  /** Key of the recipe's stay; null for a place between two of them, where the car stands now. */
  readonly key: string | null;
  readonly places: readonly number[];
  readonly optional: boolean;
  readonly fixed?: { readonly place: number; readonly from: number };
}

export interface Itinerary {
  readonly stays: readonly JobStay[];
  /** Index of the stay an instance is done in; undefined for work done where the car does not stand any more. */
  stayOf(instance: StepInstance): number | undefined;
  /** Work that can no longer be done: its stay has been left and is not returned to. */
  readonly leftBehind: ReadonlySet<StepInstance>;
}

/** What a car has to do, and what it may have to do: branches still open, remedies not yet needed. */
export interface Work {
  readonly certain: readonly StepInstance[];
  readonly possible: readonly StepInstance[];
}

/**
 * The places a car goes through from now on. The present place is a fact and the first of them; what has begun there
 * goes on there. From it a car may stand by elsewhere until the next place is free. Places it has left are not planned again. A stay without work for this car is passed by, unless the
 * recipe has it for waiting.
 */
export function itineraryOf(car: Car, work: Work, settled: SettledWork): Itinerary {
  return new Route(car, work, settled);
}
