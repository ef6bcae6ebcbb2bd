import type { Interval } from '../../../engine/problem/problem.ts';
import { qualified } from '../../../trade/booking/certificates.ts';
import { hasSkill } from '../../../trade/model/has-skill.ts';
import type { PlaceId, TechnicianId } from '../../../trade/model/ids.ts';
import type { Technician } from '../../../trade/model/people.ts';
import type { RecipeStep } from '../../../trade/model/recipe.ts';
import type { Place, Shop } from '../../../trade/model/shop.ts';
import type { Instant, LocalDate } from '../../../trade/model/time.ts';
import type { PastLuck } from './past-luck.ts';
import type { PastStep } from './past-step.ts';

/** A car that came in the past. */
export interface PastCar {
  readonly comesAt: Instant;
  readonly steps: readonly PastStep[];
  /** Places it may stand in during each stay of its recipe, what is taken first before. */
  readonly placesOf: ReadonlyMap<string, readonly Place[]>;
  /** It is not handed over before; null: as soon as it is ready. */
  readonly fetchedAt: Instant | null;
}

/** Work as it was done. */
export interface PastWork {
  readonly key: string;
  readonly step: RecipeStep;
  readonly by: TechnicianId;
  readonly pieces: readonly Interval[];
  /** Minutes of rework it found to be needed. */
  readonly failed: number | null;
}

/** One car's visit as it went. */
export interface PastVisit {
  readonly stays: readonly { readonly placeId: PlaceId; readonly from: Instant }[];
  readonly work: readonly PastWork[];
  /** All but the handover done; null: not by the end. */
  readonly readyAt: Instant | null;
  readonly leftAt: Instant | null;
}

/** The shop of the past, with hours from before the first car came until well after the last. */
export interface PastShop {
  readonly shop: Shop;
  readonly places: readonly Place[];
  readonly people: readonly { readonly technician: Technician; readonly hours: readonly Interval[] }[];
  readonly open: readonly Interval[];
  /** The day in the shop's zone that an instant lies in. */
  dayAt(at: Instant): LocalDate;
}

const MINUTE = 60_000;
/** Work that may pause is begun when at least so much of it can be done before the break. */
const WORTH_BEGINNING_MINUTES = 20;
/** Longer than this there is no time between two breaks: what must be done in one go is then done as it comes. */
const MOST_IN_ONE_GO_MINUTES = 240;
/** More minutes than anybody works. */
const LEAD_LAST = 1e9;
/** Work takes longer than planned: so much more time is left for what may not wait. */
const WITH_ROOM = 1.3;
/** Places to wait in that are left to cars that are here already. */
const KEPT_FREE = 2;

interface Person {
  readonly technician: Technician;
  readonly hours: readonly Interval[];
  /** The first of the hours that has not ended. */
  next: number;
  busyUntil: number;
  worked: number;
  /** The car whose work may not wait for them. */
  heldBy: number | null;
}

interface Spot {
  readonly place: Place;
  car: number | null;
  freeAt: number;
}

interface Car {
  readonly index: number;
  readonly known: PastCar;
  readonly steps: PastStep[];
  at: number;
  stay: string | null;
  spot: Spot | null;
  busyUntil: number;
  last: Person | null;
  /** Whether what comes next may not wait. */
  inOneGo: boolean;
  readonly times: Map<string, { start: number; end: number }>;
  readonly stays: { placeId: PlaceId; from: Instant }[];
  readonly work: PastWork[];
  readyAt: number | null;
  leftAt: number | null;
}

/**
 * Lets a shop work through cars that came, minute by minute and first come first served, as a lead without a plan would: a person does one thing at a
 * time and in their hours, a place holds one car, work that may not wait is begun when there is time for all of it.
 */
export function runPast(shop: PastShop, cars: readonly PastCar[], luck: PastLuck, until: Instant): PastVisit[] {
  return new PastRun(shop, cars, luck).run(until);
}

class PastRun {
  readonly #shop: PastShop;
  readonly #luck: PastLuck;
  readonly #people: Person[];
  readonly #spots: ReadonlyMap<PlaceId, Spot>;
  readonly #cars: Car[];
  #now = 0;

  constructor(shop: PastShop, cars: readonly PastCar[], luck: PastLuck) {
    this.#shop = shop;
    this.#luck = luck;
    this.#people = shop.people.map((each) => ({ ...each, next: 0, busyUntil: 0, worked: 0, heldBy: null }));
    this.#spots = new Map(shop.places.map((place) => [place.id, { place, car: null, freeAt: 0 }]));
    this.#cars = cars.map((known, index) => ({
      index,
      known,
      steps: [...known.steps],
      at: 0,
      stay: null,
      spot: null,
      busyUntil: known.comesAt,
      last: null,
      inOneGo: false,
      times: new Map(),
      stays: [],
      work: [],
      readyAt: null,
      leftAt: null,
    }));
  }

  run(until: Instant): PastVisit[] {
    const inOrder = [...this.#cars].sort((a, b) => a.known.comesAt - b.known.comesAt || a.index - b.index);
    let here: Car[] = [];
    let coming = 0;
    for (
      this.#now = inOrder[0]?.known.comesAt ?? until;
      this.#now < until;
      this.#now = this.#nextTime(here, inOrder[coming])
    ) {
      while (inOrder[coming] !== undefined && inOrder[coming]!.known.comesAt <= this.#now)
        here.push(inOrder[coming++]!);
      for (const person of this.#people) {
        while ((person.hours[person.next]?.to ?? Number.POSITIVE_INFINITY) <= this.#now) person.next++;
      }
      // Whoever has least left to be done is let through first, as a lead would to have the place free.
      here.sort((a, b) => a.steps.length - a.at - (b.steps.length - b.at) || a.index - b.index);
      for (const car of here) this.#goOn(car);
      if (here.some(({ leftAt }) => leftAt !== null)) here = here.filter(({ leftAt }) => leftAt === null);
      if (here.length === 0 && coming === inOrder.length) break;
    }
    return this.#cars.map(({ stays, work, readyAt, leftAt }) => ({
      stays,
      work,
      readyAt: readyAt as Instant | null,
      leftAt: leftAt as Instant | null,
    }));
  }

  /** The next time at which anything can change. */
  #nextTime(here: readonly Car[], coming: Car | undefined): number {
    let next = coming?.known.comesAt ?? Number.POSITIVE_INFINITY;
    const sooner = (time: number) => {
      if (time > this.#now && time < next) next = time;
    };
    for (const { busyUntil } of here) sooner(busyUntil);
    for (const { freeAt } of this.#spots.values()) sooner(freeAt);
    for (const { busyUntil, hours, next: k } of this.#people) {
      sooner(busyUntil);
      sooner(hours[k]?.from ?? Number.POSITIVE_INFINITY);
      sooner(hours[k + 1]?.from ?? Number.POSITIVE_INFINITY);
    }
    return next;
  }

  /** Does with a car whatever can be begun now. */
  #goOn(car: Car): void {
    while (car.busyUntil <= this.#now) {
      const step = car.steps[car.at];
      if (step === undefined) {
        this.#leave(car);
        return;
      }
      const handsOver = step.step.kind === 'handover';
      if (handsOver && car.readyAt === null) car.readyAt = this.#now;
      if (car.stay !== step.step.stay && !this.#moveTo(car, step.step.stay)) return;
      if (car.busyUntil > this.#now) return;
      const earliest = Math.max(this.#mayStart(car, step), handsOver ? (car.known.fetchedAt ?? 0) : 0);
      if (earliest > this.#now) {
        car.busyUntil = earliest;
        return;
      }
      if (!this.#begin(car, step)) return;
      car.at++;
    }
  }

  #mayStart({ times }: Car, { waits }: PastStep): number {
    return waits.reduce((latest, { key, edge, minutes }) => {
      const time = times.get(key)?.[edge];
      return time === undefined ? latest : Math.max(latest, time + minutes * MINUTE);
    }, 0);
  }

  /** Whether the car stands, or is on its way, where the stay can be held. */
  #moveTo(car: Car, stay: string): boolean {
    const places = car.known.placesOf.get(stay) ?? [];
    const stands = car.spot;
    if (stands !== null && places.includes(stands.place)) {
      car.stay = stay;
      return true;
    }
    const arrives = stands === null;
    if (!arrives && !this.#people.some((person) => hasSkill(person.technician, 'driving', 1) && this.#isIn(person)))
      return false;
    const free = ({ id }: Place) => {
      const spot = this.#spots.get(id)!;
      return spot.car === null && spot.freeAt <= this.#now;
    };
    // Nobody is taken in where those who are at work would have nowhere to stand meanwhile.
    if (arrives && (car.known.placesOf.get(WAITING) ?? []).filter(free).length <= KEPT_FREE) return false;
    const found = places.find(free);
    // Whoever waits for a bay does not stand in another's way.
    const place = found ?? (stands?.place.kind === 'bay' ? car.known.placesOf.get(WAITING)?.find(free) : undefined);
    if (place === undefined) return false;
    const from = arrives ? this.#now : this.#now + this.#shop.shop.moveMinutes * MINUTE;
    if (stands !== null) {
      stands.car = null;
      stands.freeAt = from + stands.place.turnaroundMinutes * MINUTE;
    }
    car.spot = this.#spots.get(place.id)!;
    car.spot.car = car.index;
    car.stays.push({ placeId: place.id, from: from as Instant });
    car.busyUntil = from;
    if (found !== undefined) car.stay = stay;
    return found !== undefined;
  }

  #leave(car: Car): void {
    car.leftAt = this.#now;
    car.spot!.car = null;
    car.spot!.freeAt = this.#now + car.spot!.place.turnaroundMinutes * MINUTE;
    car.busyUntil = Number.POSITIVE_INFINITY;
  }

  #begin(car: Car, past: PastStep): boolean {
    const { step, key } = past;
    const start = this.#now;
    if (step.attendance.kind === 'unattended') {
      const exact = step.duration.by === 'dataSheet' || past.minutes === 0 || step.kind === 'customerAnswer';
      const minutes = exact ? past.minutes : past.minutes * this.#luck.factor(car.index, past, null, this.#day());
      car.busyUntil = start + Math.round(minutes) * MINUTE;
      car.times.set(key, { start, end: car.busyUntil });
      return true;
    }
    const person = this.#whoCan(car, past);
    if (person === null) return false;
    const { id } = person.technician;
    const minutes = Math.max(
      1,
      Math.round(planned(past, person) * this.#luck.factor(car.index, past, id, this.#day())),
    );
    const pieces = step.pausable ? inHours(person, start, minutes) : [{ from: start, to: start + minutes * MINUTE }];
    const end = pieces.at(-1)!.to;
    const failed = step.kind === 'finalInspection' && !key.includes('.') ? this.#luck.rework(car.index) : null;
    if (failed !== null) car.steps.splice(car.at + 1, 0, ...workAgain(past, failed));
    person.busyUntil = end;
    person.worked += minutes;
    car.busyUntil = end;
    if (car.last?.heldBy === car.index) car.last.heldBy = null;
    car.last = person;
    car.inOneGo = past.mustInOneGo > past.minutes;
    if (car.inOneGo) person.heldBy = car.index;
    car.times.set(key, { start, end });
    car.work.push({ key, step, by: id, pieces, failed });
    return true;
  }

  #day(): LocalDate {
    return this.#shop.dayAt(this.#now as Instant);
  }

  #isIn({ hours, next }: Person): boolean {
    return (hours[next]?.from ?? Number.POSITIVE_INFINITY) <= this.#now;
  }

  /** Whoever was at this car last, else the one who has worked least, a lead only where nobody else can; null: nobody now. */
  #whoCan(car: Car, { step, minutes, bestInOneGo, mustInOneGo }: PastStep): Person | null {
    const day = this.#day();
    const inOneGo = bestInOneGo <= MOST_IN_ONE_GO_MINUTES ? bestInOneGo : mustInOneGo * WITH_ROOM;
    const can = (person: Person) => {
      if (person.heldBy !== null && person.heldBy !== car.index) return false;
      if (person.busyUntil > this.#now || !this.#isIn(person) || !qualified(person.technician, step, day)) return false;
      const left = (person.hours[person.next]!.to - this.#now) / MINUTE;
      return (
        left >= (step.pausable ? Math.min(WORTH_BEGINNING_MINUTES, minutes) : Math.min(inOneGo, MOST_IN_ONE_GO_MINUTES))
      );
    };
    // What was begun to be done in one go is gone on with, however little time is left.
    const { last } = car;
    if (car.inOneGo && last !== null && this.#isIn(last) && qualified(last.technician, step, day))
      return last.busyUntil > this.#now ? null : last;
    if (car.last !== null && can(car.last)) return car.last;
    const rank = ({ technician, worked }: Person) => (technician.lead ? LEAD_LAST : 0) + worked;
    let best: Person | null = null;
    for (const person of this.#people) {
      if ((best === null || rank(person) < rank(best)) && can(person)) best = person;
    }
    return best;
  }
}

/** The stay that any car may hold while it waits for another. */
export const WAITING = 'waiting';

function planned({ minutes, paced }: PastStep, { technician }: Person): number {
  return paced ? Math.ceil((minutes * 100) / technician.pacePercent) : minutes;
}

/** Minutes of work from an instant on, in somebody's hours. */
function inHours({ hours, next }: Person, start: number, minutes: number): Interval[] {
  const pieces: Interval[] = [];
  let left = minutes * MINUTE;
  for (let k = next; left > 0 && k < hours.length; k++) {
    const from = Math.max(start, hours[k]!.from);
    const to = Math.min(hours[k]!.to, from + left);
    pieces.push({ from, to });
    left -= to - from;
  }
  return pieces;
}

/** Rework and another look, as the floor names them. */
function workAgain(inspection: PastStep, reworkMinutes: number): PastStep[] {
  const polishes: RecipeStep = {
    ...inspection.step,
    key: 'rework',
    kind: 'rework',
    label: 'Rework',
    crew: { size: 1, skill: 'polishing', level: 1, certified: false, leadPreferred: false },
    duration: { by: 'minutes', minutes: reworkMinutes },
    pausable: true,
    holdPoint: null,
  };
  const own = {
    paced: false,
    condition: null,
    waits: [],
    minutes: reworkMinutes,
    bestInOneGo: reworkMinutes,
    mustInOneGo: 0,
  };
  return [
    { ...own, key: polishes.key, step: polishes },
    { ...inspection, key: `${inspection.key}.2`, waits: [] },
  ];
}
