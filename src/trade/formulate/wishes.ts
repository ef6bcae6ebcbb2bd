import type { Wish } from '../model/job.ts';
import type { Car } from './car.ts';
import { recordKey } from './floor-record.ts';
import type { Frame } from './frame.ts';
import { placesFor, whyNotThere } from './places-for.ts';
import { hasBegun, type StepInstance } from './step-instance.ts';

/** The newest wish about an instance that has not begun, or about the rest of one that is on hold. */
export function wishFor(car: Car, instance: StepInstance): Wish | undefined {
  const { wishes } = car.job;
  if (wishes === undefined || wishes.length === 0) return undefined;
  const key = hasBegun(instance) ? `${instance.key}.rest` : instance.key;
  return wishes.findLast((wish) => wish.operation === key);
}

/** Minutes of the axis a wish names. An hour that has passed without the work having begun binds nobody any more. */
export function wishedHours(
  { frame }: Car,
  wish: Wish | undefined,
): { readonly startAt?: number; readonly notBefore?: number } {
  const startAt = minuteOf(frame, wish?.startAt ?? null);
  const notBefore = minuteOf(frame, wish?.notBefore ?? null);
  return {
    ...(startAt === undefined || startAt < frame.now ? {} : { startAt }),
    ...(notBefore === undefined ? {} : { notBefore }),
  };
}

function minuteOf({ axis }: Frame, at: Wish['startAt']): number | undefined {
  return at === null ? undefined : axis.toMinute(at, 'ceil');
}

/**
 * Places for each stay of the recipe, as `placesFor`; of a stay with a wished place that one alone, if it will do. A wish that
 * cannot be kept is passed over, and the desk is told.
 */
export function wishedPlaces(car: Car): (index: number) => readonly number[] {
  const { wishes } = car.job;
  if (wishes === undefined || wishes.length === 0) return (index) => placesFor(car, index);
  const known = new Map<number, readonly number[]>();
  return (index) => {
    let places = known.get(index);
    if (places === undefined) {
      places = placesAsWished(car, index, wishes);
      known.set(index, places);
    }
    return places;
  };
}

function placesAsWished(car: Car, index: number, wishes: readonly Wish[]): readonly number[] {
  const able = placesFor(car, index);
  const stay = car.recipe.stays[index]?.key;
  const wish = wishes.findLast(({ operation, placeId }) => {
    if (placeId === null || isDone(car, operation)) return false;
    const step = car.recipe.steps.find(({ key }) => key === operation.split('.')[0]);
    return step !== undefined && step.stay === stay;
  });
  if (wish?.placeId == null) return able;
  const place = car.frame.placeOf.get(wish.placeId);
  if (place === undefined || !able.includes(place)) {
    const why =
      place === undefined
        ? `The shop has no place "${wish.placeId}" any more.`
        : whyNotThere(car, index, car.frame.book.places[place]!);
    wishNotKept(car, wish, why);
    return able;
  }
  // One list for one place: equal questions are known again by it.
  const { placeLists } = car.frame;
  const alone = placeLists.get(`only ${place}`) ?? [place];
  placeLists.set(`only ${place}`, alone);
  return alone;
}

/** A wish for work that is over says nothing of what is still to come. */
function isDone({ record }: Car, operation: string): boolean {
  const state = record.work.get(recordKey(operation))?.state;
  return state === 'finished' || state === 'abandoned';
}

export function wishNotKept(car: Car, wish: Wish, text: string): void {
  const { notices, job } = car;
  notices.push({ kind: 'wishNotKept', jobId: job.id, operation: wish.operation, text });
}
