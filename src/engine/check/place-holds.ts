import type { PlanRead } from './plan-read.ts';

/** The time one car, or something outside the problem, holds one place. */
export interface Hold {
  readonly place: number;
  /** The job; below 0 for what is outside the problem. */
  readonly owner: number;
  /** From when the place must be free of others (start of the move in), arrival, and leaving. */
  readonly heldFrom: number;
  readonly from: number;
  readonly to: number;
  /** `settled`: its beginning is a fact. `outside`: taken by others, from after `now` on. `planned`: to be decided. */
  readonly kind: 'settled' | 'outside' | 'planned';
  readonly stay?: number;
}

/** Whether two holds judge one another: not when both beginnings are facts, nor when both lie outside the problem. */
export function isJudged(one: Hold['kind'], other: Hold['kind']): boolean {
  return !(one === other && one !== 'planned');
}

/**
 * All holds by place, each list sorted by its beginning. Neighbouring stays of a job in one place are one hold, since
 * the car does not leave between them. O(stays log stays).
 */
export function readHolds({ problem, itineraries }: PlanRead): readonly (readonly Hold[])[] {
  const byPlace: Hold[][] = problem.places.map(() => []);
  for (const itinerary of itineraries) {
    for (let k = 0; k < itinerary.length; ) {
      const { place, job: owner, heldFrom, from, stay, arrivalIsFact } = itinerary[k]!;
      let { to } = itinerary[k]!;
      for (k++; k < itinerary.length && itinerary[k]!.place === place; k++) to = itinerary[k]!.to;
      byPlace[place]!.push({ place, owner, heldFrom, from, to, stay, kind: arrivalIsFact ? 'settled' : 'planned' });
    }
  }
  for (const [k, { place, from, to }] of problem.takenPlaces.entries()) {
    const kind = from <= problem.now ? 'settled' : 'outside';
    byPlace[place]!.push({ place, owner: -1 - k, heldFrom: from, from, to, kind });
  }
  for (const holds of byPlace) holds.sort(byBeginning);
  return byPlace;
}

function byBeginning(a: Hold, b: Hold): number {
  return a.heldFrom - b.heldFrom || a.to - b.to;
}
