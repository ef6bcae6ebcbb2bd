import { nextPickup, pickupHours } from '../../promise/simulate/promise-time.ts';
import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Inserted, ResidentBook, ResidentOptions } from '../planning/resident-book.ts';
import type { Slot, SlotWhy } from './desk.ts';
import type { Displaced } from './displaced.ts';
import { forecastInBook } from './forecast-in-book.ts';
import { keepInBook } from './keep-in-book.ts';
import { displacedBy, soonestMovingOthers } from './move-others.ts';
import type { Patience } from './patience.ts';

/** Drop-offs looked at from the first that is possible on, each in a later opening, and again on the days after it. */
const DROP_OFFS = 2;
const LATER = 3;
/** So often further drop-offs are looked at when none of those before can be promised. */
const MOST_BLOCKS = 6;
/** With less patience than that, further choices are hardly ever found. */
const HURRIED_MS = 50;
/** A slot is worth its own line when it saves an hour. */
const WORTH_MINUTES = 60;
/** Ways of each further kind that are planned with their promise before the kind is given up. */
const MOST_TRIED = 3;
/** How long another way is thought to keep the car for its owner at least, of the time that the first needed; and more of it where that did not do. */
const WAIT_AGAIN = 0.9;
const WAIT_MORE = 1.5;
/** A car that would have to wait longer may not have to at another time: more is asked for only after that did not do. */
const LONGEST_FIRST_WAIT_MS = 7 * 86_400_000;
const LONG_STAY_MS = 14 * 86_400_000;

const MINUTE = 60_000;

/** A way to take the car in, not yet promised. */
interface Way {
  readonly inserted: Inserted;
  readonly dropOffAt: Instant;
  readonly readyAt: Instant;
}

/** A way planned at its hour with its promise: as a hold would plan it. */
interface Offer extends Slot {
  readonly awayMinutes: number;
  readonly bayMinutes: number;
}

/**
 * A few slots for a car, each planned and checked as a hold would plan it, and no two the same: the soonest pickup first,
 * then the wanted day, a calmer later day, what is much sooner when others give way, and what is at least an hour shorter away
 * or in bays; kinds are left out that are not likely to be found soon. Empty when nothing before the end of the open weeks holds the car.
 */
export function slotsInBook(
  resident: ResidentBook,
  job: Job,
  wantedDropOffAt: Instant | null,
  patience: Patience,
): Slot[] {
  const search = new SlotSearch(resident, job, patience);
  search.offerSoonest();
  if (wantedDropOffAt !== null && wantedDropOffAt > job.earliestDropOff) search.offerWantedDay(wantedDropOffAt);
  search.offerLaterDay();
  search.offerMovingOthers();
  search.offerShortestStay();
  search.offerFewestBayHours();
  return soonestFirst(search.offers).map(asSlot);
}

/** Slots are looked for one after another, as long as whoever asks has patience. */
class SlotSearch {
  readonly offers: Offer[] = [];
  readonly #resident: ResidentBook;
  readonly #job: Job;
  readonly #patience: Patience;
  /** By when further slots are to be known. */
  readonly #until: number;
  /** There is no time for choices: the first way will do. */
  readonly #isHurried: boolean;
  /** The longest that a way took until it was known whether it can be promised: the next one may take as long. */
  #longest = 0;
  /** Milliseconds for which the car is to wait for its owner, so that it is sure to be ready; null until a way was simulated. */
  #wait: number | null = null;
  /** Ways that were found, whether they were offered or not. */
  readonly #ways = new Set<Way>();

  constructor(resident: ResidentBook, job: Job, patience: Patience) {
    this.#resident = resident;
    this.#job = job;
    this.#patience = patience;
    const mostMs = patience.mostMs();
    this.#until = patience.clock() + mostMs;
    this.#isHurried = mostMs < HURRIED_MS;
  }

  offerSoonest(): void {
    let notBefore: Instant | undefined;
    for (let blocks = 0; blocks < MOST_BLOCKS; blocks++) {
      const knowsWait = this.#wait !== null;
      const ways = this.#firstWays(notBefore);
      if (ways.length === 0) return;
      const inTurn = sorted(ways, (a, b) => a.readyAt - b.readyAt || b.dropOffAt - a.dropOffAt);
      if (this.#offerFirst('soonest', inTurn.slice(0, 1), { atLeast: 1 })) return;
      // Once it is known how long it has to wait for its owner, the same days are looked at with other eyes.
      if (knowsWait) notBefore = this.#dayAfter(Math.max(...ways.map(tooSoon)) as Instant);
    }
  }

  /** Whoever names a day hears of it, however long the soonest took. */
  offerWantedDay(wanted: Instant): void {
    if (this.offers.length === 0) return;
    this.#offerFirst('wantedDay', this.#waysWith({ alternatives: 2, notBefore: wanted }), { atLeast: 1 });
  }

  offerLaterDay(): void {
    if (!this.#isWorthTheWait()) return;
    const last = Math.max(...this.offers.map((each) => each.dropOffAt)) as Instant;
    const ways = this.#waysWith({ alternatives: LATER, notBefore: this.#dayAfter(last) });
    this.#offerFirst('laterDay', this.#calmestFirst(ways));
  }

  offerMovingOthers(): void {
    if (!this.#isWorthTheWait()) return;
    const soonest = this.offers[0]!;
    const moving = soonestMovingOthers(this.#resident, this.#job, soonest, () => this.#isWorthTheWait());
    if (moving !== null) this.offers.push(offerOf(this.#resident, 'movingOthers', moving, displacedBy(moving)));
  }

  offerShortestStay(): void {
    const minutesOf = ({ readyAt, dropOffAt }: Way) => (readyAt - dropOffAt) / MINUTE;
    this.#offerLeast('shortestStay', minutesOf, ({ awayMinutes }) => awayMinutes);
  }

  offerFewestBayHours(): void {
    const minutesOf = ({ inserted }: Way) => bayMinutes(this.#resident, inserted);
    this.#offerLeast('fewestBayHours', minutesOf, (offer) => offer.bayMinutes);
  }

  /** A way that promises fewer of some minutes than all offers have, and then has. */
  #offerLeast(why: SlotWhy, promised: (way: Way) => number, minutesOf: (offer: Offer) => number): void {
    if (!this.#isWorthTheWait()) return;
    const most = Math.min(...this.offers.map(minutesOf)) - WORTH_MINUTES;
    const ways = sorted(
      [...this.#ways].filter((way) => promised(way) <= most),
      (a, b) => promised(a) - promised(b),
    );
    this.#offerFirst(why, ways, { isWorth: (offer) => minutesOf(offer) <= most });
  }

  /** Whether one more way would probably be known in time. */
  #isWorthTheWait(): boolean {
    const { othersWait, clock } = this.#patience;
    return this.offers.length > 0 && !othersWait() && clock() + this.#longest < this.#until;
  }

  /** The first of some ways that can be promised and is none of the offers; so many are tried, whatever the patience. */
  #offerFirst(
    why: SlotWhy,
    ways: readonly Way[],
    { atLeast = 0, isWorth }: { readonly atLeast?: number; readonly isWorth?: (offer: Offer) => boolean } = {},
  ): boolean {
    const fresh = ways.filter(({ dropOffAt }) => this.#isNew(dropOffAt)).slice(0, MOST_TRIED);
    for (const [tried, way] of fresh.entries()) {
      if (tried >= atLeast && !this.#isWorthTheWait()) return false;
      const offer = this.#offerFor(why, way);
      if (offer === null || isWorth?.(offer) === false) continue;
      this.offers.push(offer);
      return true;
    }
    return false;
  }

  #offerFor(why: SlotWhy, way: Way): Offer | null {
    const began = this.#patience.clock();
    const kept = this.#keep(way);
    this.#longest = Math.max(this.#longest, this.#patience.clock() - began);
    return kept === null ? null : offerOf(this.#resident, why, kept);
  }

  #keep(way: Way): Inserted | null {
    const resident = this.#resident;
    const { dropOffAt } = way;
    const knewWait = this.#wait !== null;
    const pickupAt = this.#pickupOf(way);
    if (pickupAt === null) return null;
    const kept = keepInBook(resident, { ...this.#job, dropOffAt }, { kind: 'about', pickupAt });
    if (kept === null && knewWait) this.#wait = WAIT_MORE * this.#wait!;
    if (kept === null || !this.#isNew(kept.planned.dropOffAt)) return null;
    return resident.checkAmongNeighbours(kept).length > 0 ? null : kept;
  }

  /** About the earliest pickup that may be promised: simulated for the first way, for the others as long after their work is done. */
  #pickupOf({ inserted, readyAt }: Way): Instant | null {
    if (this.#wait !== null) {
      return nextQuarter(inserted, Math.max(readyAt + this.#wait, inserted.planned.pickupAt) as Instant);
    }
    const outlook = forecastInBook(this.#resident, inserted)?.rough ?? null;
    if (outlook === null || outlook.earliest === null) return null;
    this.#wait = Math.min(LONGEST_FIRST_WAIT_MS, WAIT_AGAIN * Math.max(0, outlook.sureReadyAt - readyAt));
    return outlook.earliest.pickupAt;
  }

  #isNew(dropOffAt: Instant): boolean {
    return this.offers.every((each) => each.dropOffAt !== dropOffAt);
  }

  /** A search gives up after many dead ends: in a full book it is begun again half-way to its end, and where that lies. */
  #firstWays(notBefore: Instant | undefined): Way[] {
    const from = notBefore ?? this.#job.earliestDropOff;
    const { lastOut } = this.#resident;
    for (const begin of [from, (from + (lastOut - from) / 2) as Instant, lastOut]) {
      if (begin < from) continue;
      const alternatives = this.#isHurried ? 1 : DROP_OFFS;
      const ways = this.#waysWith({ alternatives, shortStay: true, notBefore: begin });
      if (ways.length > 0) return ways;
    }
    return [];
  }

  #waysWith(options: ResidentOptions): Way[] {
    const found = this.#resident.insert(this.#job, {
      ...options,
      waitsMinutes: Math.round((this.#wait ?? 0) / MINUTE),
    });
    if (found === null || !('length' in found)) return [];
    const ways: Way[] = [];
    for (const inserted of found) {
      const { dropOffAt, readyAt } = inserted.planned;
      const way = { inserted, dropOffAt, readyAt };
      ways.push(way);
      this.#ways.add(way);
    }
    return ways;
  }

  #calmestFirst(ways: readonly Way[]): Way[] {
    const loads = new Map(ways.map((way) => [way, peopleMinutes(this.#resident, way.dropOffAt)]));
    return sorted(ways, (a, b) => loads.get(a)! - loads.get(b)! || a.dropOffAt - b.dropOffAt);
  }

  #dayAfter(at: Instant): Instant {
    const { timeZone } = this.#resident.book.shop;
    return dayStart(addDays(localDate(at, timeZone), 1), timeZone);
  }
}

/** Where other drop-offs are worth a look: a car that would stand about for weeks is not looked at again with each day of them. */
function tooSoon({ dropOffAt, readyAt }: Way): number {
  return dropOffAt + Math.max(0, readyAt - dropOffAt - LONG_STAY_MS) / 2;
}

function asSlot({ awayMinutes: _, bayMinutes: __, ...slot }: Offer): Slot {
  return slot;
}

/** Waiting for its owner may have made what looked soonest later than another: that other is then the soonest. */
function soonestFirst(offers: readonly Offer[]): Offer[] {
  if (offers.length === 0) return [];
  const movingNobody = offers.filter(({ displaces }) => displaces.length === 0);
  const pickupAt = Math.min(...movingNobody.map((each) => each.pickupAt));
  const soonest = movingNobody.find((each) => each.pickupAt === pickupAt)!;
  if (soonest.why === 'soonest') return [...offers];
  const others = offers.filter((each) => each !== soonest && each.why !== 'soonest');
  return [{ ...soonest, why: 'soonest' }, ...others];
}

/** The first quarter hour from an instant on at which the car may be picked up; null beyond the hours known. */
function nextQuarter({ formulation: { axis, problem } }: Inserted, from: Instant): Instant | null {
  const minute = nextPickup(axis.toMinute(from, 'ceil'), pickupHours(problem, problem.jobs.length - 1));
  return minute === null ? null : axis.toInstant(minute);
}

function offerOf(resident: ResidentBook, why: SlotWhy, kept: Inserted, displaces: readonly Displaced[] = []): Offer {
  const { planned, operations, stays } = kept;
  const { pickupAt, confidencePercent } = kept.job.promise!;
  const { dropOffAt, readyAt } = planned;
  const awayMinutes = (pickupAt - dropOffAt) / MINUTE;
  return {
    why,
    dropOffAt,
    readyAt,
    pickupAt,
    confidencePercent,
    displaces,
    operations,
    stays,
    awayMinutes,
    bayMinutes: bayMinutes(resident, kept),
  };
}

/** Minutes a car stands in bays, where it keeps others out; parking costs nobody anything. */
function bayMinutes({ book }: ResidentBook, { stays }: Inserted): number {
  const bays = new Set(book.places.filter(({ kind }) => kind === 'bay').map(({ id }) => id));
  return stays.reduce((sum, { placeId, from, to }) => sum + (bays.has(placeId) ? (to - from) / MINUTE : 0), 0);
}

/** Minutes of people's work that the plan has on the day of an instant. */
function peopleMinutes({ book }: ResidentBook, at: Instant): number {
  const zone = book.shop.timeZone;
  const date = localDate(at, zone);
  const [from, to] = [dayStart(date, zone), dayStart(addDays(date, 1), zone)];
  let minutes = 0;
  for (const { start, end, pieces, people } of book.previousPlan?.operations ?? []) {
    if (start >= to || end <= from) continue;
    for (const piece of pieces) {
      minutes += (people.length * Math.max(0, Math.min(piece.to, to) - Math.max(piece.from, from))) / MINUTE;
    }
  }
  return minutes;
}

function sorted(ways: readonly Way[], order: (a: Way, b: Way) => number): Way[] {
  return [...ways].sort(order);
}
