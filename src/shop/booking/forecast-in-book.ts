import { LRUCache } from 'lru-cache';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { Inserted, ResidentBook } from '../planning/resident-book.ts';
import { type PickupForecast, pickupForecast } from './pickup-for.ts';

/** Forecasts remembered for a book that is open. */
const MOST_KEPT = 32;

/** By what the book holds: a car taken in makes it another. */
const keptOf = new WeakMap<Formulation, LRUCache<string, { readonly forecast: PickupForecast | null }>>();

/**
 * The forecast of a car inserted where nobody moved, simulated once for equal work at equal hours: with its promise a car
 * waits for its owner, which seldom changes when it is ready.
 */
export function forecastInBook(resident: ResidentBook, inserted: Inserted): PickupForecast | null {
  const kept = keptOf.get(resident.formulation) ?? new LRUCache({ max: MOST_KEPT });
  keptOf.set(resident.formulation, kept);
  const key = workOf(inserted);
  const known = kept.get(key);
  if (known !== undefined) return known.forecast;
  const forecast = pickupForecast({ ...inserted, book: resident.book }, inserted.job.id);
  kept.set(key, { forecast });
  return forecast;
}

/** All that the simulation of a car knows of it, but for who it is: the car, and its work until it is ready. */
function workOf({ job, planned, operations }: Inserted): string {
  const { vehicle, condition, recipeId, addOns, inspection, scope, arranged } = job;
  const work = operations
    .filter(({ start }) => start < planned.readyAt)
    .map(({ operation, start, end, placeId, people }) => [operation, start, end, placeId, people]);
  return JSON.stringify([vehicle, condition, recipeId, addOns, inspection, scope, arranged, planned.readyAt, work]);
}
