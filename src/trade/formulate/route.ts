import type { Recipe } from '../model/recipe.ts';
import type { Instant } from '../model/time.ts';
import { CannotPlan, type Car } from './car.ts';
import type { WorkRecord } from './floor-record.ts';
import { isHeldStill } from './held-still.ts';
import type { Itinerary, JobStay, Work } from './itinerary.ts';
import { holdingPlaces, noPlaceText } from './places-for.ts';
import type { SettledWork } from './settle.ts';
import type { Standing } from './standing.ts';
import type { StepInstance } from './step-instance.ts';
import { wishedPlaces } from './wishes.ts';

/** An itinerary while it is found, and as it then is. */
export class Route implements Itinerary {
  readonly stays: JobStay[] = [];
  readonly leftBehind = new Set<StepInstance>();
  readonly #car: Car;
  readonly #work: Work;
  readonly #settled: SettledWork;
  readonly #placesFor: (index: number) => readonly number[];
  /** Index of each of the recipe's stays, by key. */
  readonly #position = new Map<string, number>();
  /** Certain work that is still to be done somewhere. */
  readonly #pending: StepInstance[] = [];
  /** Work done where the car stands. */
  readonly #here = new Set<StepInstance>();
  /** Index among `stays`, by the key of the recipe's stay, of those still to come. */
  readonly #ahead = new Map<string, number>();

  constructor(car: Car, work: Work, settled: SettledWork) {
    this.#car = car;
    this.#work = work;
    this.#settled = settled;
    this.#placesFor = wishedPlaces(car);
    for (const [index, { key }] of car.recipe.stays.entries()) this.#position.set(key, index);
    for (const instance of work.certain) if (this.#isPending(instance)) this.#pending.push(instance);
    const firstAhead = car.standing === undefined ? 0 : this.#stand(car.standing);
    if (this.#pending.length === 0) return;
    for (let index = firstAhead; index < car.recipe.stays.length; index++) this.#goThrough(index);
  }

  stayOf(instance: StepInstance): number | undefined {
    if (this.#here.has(instance)) return 0;
    if (this.#settled.has(instance) || this.leftBehind.has(instance)) return undefined;
    return this.#ahead.get(instance.step.stay);
  }

  /** Begins the route where the car stands. @returns the first of the recipe's stays that it may go on to. */
  #stand(present: Standing): number {
    const begunHere = this.#begunHere(present);
    const serving = this.#serving(present, begunHere);
    // Work begun where it should not be goes on elsewhere, if the car may be moved.
    const goesOn =
      serving === -1 || this.#canServe(present, serving) || isHeldStill(this.#car, this.#work.certain, this.#settled);
    for (const instance of begunHere) if (this.#isInHand(instance)) this.#here.add(instance);
    this.#assign(present, serving, goesOn, this.#pending);
    this.#assign(present, serving, goesOn, this.#work.possible);
    const key = serving >= 0 ? this.#car.recipe.stays[serving]!.key : null;
    const { place, from } = present;
    this.stays.push({ key, places: [place], optional: false, fixed: { place, from } });
    const firstAhead = goesOn ? serving + 1 : serving;
    if (this.#goesFurther(firstAhead) && needsStandBy(this.#car, place, firstAhead)) {
      const places = holdingPlaces(this.#car, serving);
      if (places.length > 0) this.stays.push({ key: 'standBy', places, optional: true });
    }
    return firstAhead;
  }

  #begunHere(present: Standing): StepInstance[] {
    const begun: StepInstance[] = [];
    for (const instance of this.#work.certain) {
      if (hasBegunSince(this.#car, instance, present, this.#settled)) begun.push(instance);
    }
    return begun;
  }

  /** The recipe's stay that the present place serves; -1 when it is none of them. */
  #serving(present: Standing, begunHere: readonly StepInstance[]): number {
    let last = -1;
    for (const instance of begunHere) last = Math.max(last, this.#at(instance));
    if (last >= 0 || this.#pending.length === 0) return last;
    let first = Number.POSITIVE_INFINITY;
    for (const instance of this.#pending) first = Math.min(first, this.#at(instance));
    return this.#canServe(present, first) ? first : -1;
  }

  /** Says of work of the stay being served and of those before it whether it is done here or can no longer be done. */
  #assign(present: Standing, serving: number, goesOn: boolean, work: readonly StepInstance[]): void {
    for (const instance of work) {
      const at = this.#at(instance);
      if (at > serving || this.#isInHand(instance) || (at === serving && !goesOn)) continue;
      const isHere = at === serving || this.#canServe(present, at);
      (isHere ? this.#here : this.leftBehind).add(instance);
    }
  }

  #goesFurther(firstAhead: number): boolean {
    for (const instance of this.#pending) {
      if (this.#at(instance) >= firstAhead && !this.#here.has(instance)) return true;
    }
    return false;
  }

  /** Adds one of the recipe's stays, if this car needs it or may need it. */
  #goThrough(index: number): void {
    const { key } = this.#car.recipe.stays[index]!;
    const isNeeded = this.#isNeeded(index);
    if (!isNeeded && !this.#mayBeNeeded(index) && !this.#waitsIn(key, index)) return;
    const places = this.#placesFor(index);
    if (places.length === 0) {
      if (!isNeeded) return;
      throw new CannotPlan('vehicle', noPlaceText(this.#car, index));
    }
    this.#ahead.set(key, this.stays.length);
    this.stays.push({ key, places, optional: !isNeeded });
  }

  #isNeeded(index: number): boolean {
    for (const instance of this.#pending) {
      if (this.#at(instance) !== index) continue;
      if (!this.#here.has(instance) && !this.leftBehind.has(instance)) return true;
    }
    return false;
  }

  #mayBeNeeded(index: number): boolean {
    for (const instance of this.#work.possible) if (this.#at(instance) === index) return true;
    return false;
  }

  #waitsIn(key: string, index: number): boolean {
    if (!isForWaiting(this.#car, key, this.#settled)) return false;
    for (const instance of this.#pending) if (this.#at(instance) > index) return true;
    return false;
  }

  #at({ step }: StepInstance): number {
    return this.#position.get(step.stay) ?? 0;
  }

  #canServe({ place }: Standing, index: number): boolean {
    return this.#placesFor(index).includes(place);
  }

  /** Of a car that nobody saw arrive, work in hand is a fact without a place. */
  #isPending(instance: StepInstance): boolean {
    if (this.#settled.has(instance)) return false;
    return this.#car.standing !== undefined || instance.record?.state !== 'underWay';
  }

  #isInHand(instance: StepInstance): boolean {
    return this.#settled.has(instance) || instance.record?.state === 'underWay';
  }
}

/** A stay without any steps, before work that is still to come, and the one in which a customer's answer is waited for. */
function isForWaiting(car: Car, key: string, settled: SettledWork): boolean {
  if (!hasSteps(car.recipe, key)) return true;
  for (const [{ step }, { end }] of settled) {
    if (step.stay === key && step.kind === 'customerAnswer' && end > car.frame.now) return true;
  }
  return false;
}

function hasSteps({ steps }: Recipe, key: string): boolean {
  for (const { stay } of steps) if (stay === key) return true;
  return false;
}

/** A customer's answer needs no car, so that it does not tell where the car is. */
function hasBegunSince(car: Car, instance: StepInstance, present: Standing, settled: SettledWork): boolean {
  if (instance.step.kind === 'customerAnswer') return false;
  const { record } = instance;
  if (record !== undefined) return goesOnSince(record, present.since);
  const known = settled.get(instance);
  return known !== undefined && known.start >= present.from && known.end > car.frame.now;
}

function goesOnSince({ pieces }: WorkRecord, since: Instant): boolean {
  for (const { from, to } of pieces) if (from >= since || to === null) return true;
  return false;
}

/** A car that is parked stands by already, and a recipe may have its own place for it. */
function needsStandBy({ frame, recipe }: Car, place: number, firstAhead: number): boolean {
  const next = recipe.stays[firstAhead];
  return frame.book.places[place]!.kind !== 'parking' && !(next?.optional === true && next.needs.includes('hold'));
}
