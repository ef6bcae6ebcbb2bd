import type { RecipeLag } from '../model/recipe.ts';
import { CannotPlan, type Car } from './car.ts';
import { byStep, instanceAt } from './order.ts';
import { holdingPlaces, noPlaceText } from './places-for.ts';
import type { SettledWork } from './settle.ts';
import { hasBegun, type StepInstance } from './step-instance.ts';
import { wishedPlaces } from './wishes.ts';

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
export function itineraryOf(car: Car, { certain, possible }: Work, settled: SettledWork): Itinerary {
  const present = car.standing;
  const position = new Map(car.recipe.stays.map(({ key }, index) => [key, index]));
  const at = (instance: StepInstance) => position.get(instance.step.stay) ?? 0;
  const placesFor = wishedPlaces(car);
  const begunHere = certain.filter(
    (instance) => present !== undefined && hasBegunSince(car, instance, present, settled),
  );
  // Of a car that nobody saw arrive, work in hand is a fact without a place.
  const isPlaced = (instance: StepInstance) => present !== undefined || instance.record?.state !== 'underWay';
  const pending = certain.filter((instance) => !settled.has(instance) && isPlaced(instance));
  const firstPending = pending.length === 0 ? -1 : Math.min(...pending.map(at));

  const isInHand = (instance: StepInstance) => settled.has(instance) || instance.record?.state === 'underWay';
  const here = new Set<StepInstance>(begunHere.filter(isInHand));
  const leftBehind = new Set<StepInstance>();
  /** The recipe's stay that the present place serves; -1 when it is none of them. */
  let serving = Math.max(-1, ...begunHere.map(at));
  let goesOn = true;
  if (present !== undefined) {
    const canServe = (index: number) => placesFor(index).includes(present.place);
    if (serving === -1 && firstPending >= 0 && canServe(firstPending)) serving = firstPending;
    // Work begun where it should not be goes on elsewhere, if the car may be moved.
    goesOn = serving === -1 || canServe(serving) || isHeldStill(car, certain, settled);
    for (const instance of [...pending, ...possible]) {
      if (at(instance) > serving || isInHand(instance) || (at(instance) === serving && !goesOn)) continue;
      (at(instance) === serving || canServe(at(instance)) ? here : leftBehind).add(instance);
    }
  }
  const firstAhead = present === undefined ? 0 : goesOn ? serving + 1 : serving;

  const stays: JobStay[] = [];
  const byKey = new Map<string, number>();
  if (present !== undefined) {
    const key = serving >= 0 ? car.recipe.stays[serving]!.key : null;
    stays.push({ key, places: [present.place], optional: false, fixed: { place: present.place, from: present.from } });
  }
  const goesFurther = pending.some((instance) => at(instance) >= firstAhead && !here.has(instance));
  if (present !== undefined && goesFurther && needsStandBy(car, present.place, firstAhead)) {
    const places = holdingPlaces(car, serving);
    if (places.length > 0) stays.push({ key: 'standBy', places, optional: true });
  }
  car.recipe.stays.forEach((stay, index) => {
    if (pending.length === 0 || index < firstAhead) return;
    const needed = pending.filter(
      (instance) => at(instance) === index && !here.has(instance) && !leftBehind.has(instance),
    );
    const mayNeed = possible.some((instance) => at(instance) === index);
    const waits = isForWaiting(car, stay.key, settled) && pending.some((instance) => at(instance) > index);
    if (needed.length === 0 && !mayNeed && !waits) return;
    const places = placesFor(index);
    if (places.length === 0) {
      if (needed.length === 0) return;
      throw new CannotPlan('vehicle', noPlaceText(car, index));
    }
    byKey.set(stay.key, stays.length);
    stays.push({ key: stay.key, places, optional: needed.length === 0 });
  });
  return {
    stays,
    stayOf: (instance) => {
      if (here.has(instance)) return 0;
      return settled.has(instance) || leftBehind.has(instance) ? undefined : byKey.get(instance.step.stay);
    },
    leftBehind,
  };
}

/** Whether the recipe forbids to move the car now. Of work that is done again the first begins, and the last ends, a stillness. */
function isHeldStill(car: Car, certain: readonly StepInstance[], settled: SettledWork): boolean {
  const instances = byStep(certain);
  const isPast = (edge: RecipeLag['from']): boolean => {
    const instance = instanceAt(instances, edge);
    if (instance === undefined) return false;
    const known = settled.get(instance);
    return known === undefined ? edge.edge === 'start' && hasBegun(instance) : known[edge.edge] <= car.frame.now;
  };
  return car.recipe.stills.some(
    ({ from, to }) => isPast(from) && instanceAt(instances, to) !== undefined && !isPast(to),
  );
}

/** A stay without any steps, before work that is still to come, and the one in which a customer's answer is waited for. */
function isForWaiting(car: Car, key: string, settled: SettledWork): boolean {
  const steps = car.recipe.steps.filter(({ stay }) => stay === key);
  if (steps.length === 0) return true;
  return [...settled].some(
    ([{ step }, { end }]) => step.stay === key && step.kind === 'customerAnswer' && end > car.frame.now,
  );
}

/** A customer's answer needs no car, so that it does not tell where the car is. */
function hasBegunSince(
  car: Car,
  instance: StepInstance,
  present: { since: number; from: number },
  settled: SettledWork,
) {
  if (instance.step.kind === 'customerAnswer') return false;
  const { record } = instance;
  if (record !== undefined) return record.pieces.some(({ from, to }) => from >= present.since || to === null);
  const known = settled.get(instance);
  return known !== undefined && known.start >= present.from && known.end > car.frame.now;
}

/** A car that is parked stands by already, and a recipe may have its own place for it. */
function needsStandBy({ frame, recipe }: Car, place: number, firstAhead: number): boolean {
  const next = recipe.stays[firstAhead];
  return frame.book.places[place]!.kind !== 'parking' && !(next?.optional === true && next.needs.includes('hold'));
}
