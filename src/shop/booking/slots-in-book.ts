import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Inserted, ResidentBook, ResidentOptions } from '../planning/resident-book.ts';
import type { Slot, SlotWhy } from './desk.ts';
import type { Displaced } from './displaced.ts';
import { keepInBook, pickupOf } from './keep-in-book.ts';
import { displacedBy, soonestMovingOthers } from './move-others.ts';
import type { Patience } from './patience.ts';

/** Drop-offs looked at from the first that is possible on, each in a later opening, and again on the days after it. */
const DROP_OFFS = 2;
const LATER = 3;
/** So often further drop-offs are looked at when none of those before can be promised. */
const MOST_BLOCKS = 6;
/** A slot is worth its own line when it saves an hour. */
const WORTH_MINUTES = 60;
/** Ways of each kind that are planned with their promise before the kind is given up; of each later block of drop-offs one. */
const MOST_TRIED = 3;
const MOST_TRIED_LATER = 1;
/** Somebody is on the telephone: after so many milliseconds no further kind of slot is looked for. */
const PATIENCE_MS = 75;
/** And after so many, whether others could give way is looked into no further. */
const LONGEST_PATIENCE_MS = 115;

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
 * or in bays; kinds are left out when the search for those before has taken long. Empty when nothing before the end of the open weeks holds the car.
 */
export function slotsInBook(
  resident: ResidentBook,
  job: Job,
  wantedDropOffAt: Instant | null,
  patience: Patience,
): Slot[] {
  const { book } = resident;
  const zone = book.shop.timeZone;
  const asked = patience.clock();
  const waitsLessThan = (ms: number) => !patience.othersWait() && patience.clock() < asked + ms;
  const isWorthTheWait = () => waitsLessThan(PATIENCE_MS);
  const isBorne = () => waitsLessThan(LONGEST_PATIENCE_MS);
  const waysWith = (options: ResidentOptions): Way[] => {
    const found = resident.insert(job, options);
    if (found === null || !('length' in found)) return [];
    return found.map((inserted) => {
      const { dropOffAt, readyAt } = inserted.planned;
      return { inserted, dropOffAt, readyAt };
    });
  };
  const calmestFirst = (ways: readonly Way[]): Way[] => {
    const loads = new Map(ways.map((way) => [way, peopleMinutes(resident, way.dropOffAt)]));
    return sorted(ways, (a, b) => loads.get(a)! - loads.get(b)! || a.dropOffAt - b.dropOffAt);
  };
  const dayAfter = (at: Instant) => dayStart(addDays(localDate(at, zone), 1), zone);
  const offers: Offer[] = [];
  const keep = (why: SlotWhy, { inserted, dropOffAt }: Way): Offer | null => {
    const pickupAt = pickupOf(resident, inserted)?.pickupAt;
    if (pickupAt === undefined) return null;
    const kept =
      keepInBook(resident, { ...job, dropOffAt }, { kind: 'thisOrLater', pickupAt }) ??
      keepElsewhere(resident, job, dropOffAt, pickupAt);
    if (kept === null || offers.some((each) => each.dropOffAt === kept.planned.dropOffAt)) return null;
    return resident.checkAmongNeighbours(kept).length > 0 ? null : offerOf(resident, why, kept);
  };
  /** The first of some ways that can be promised and is none of the offers; with `isWorth`, only one that is worth it. */
  const offer = (why: SlotWhy, ways: readonly Way[], isWorth: (offer: Offer) => boolean = () => true): Offer | null => {
    const fresh = ways.filter(({ dropOffAt }) => offers.every((each) => each.dropOffAt !== dropOffAt));
    for (const way of fresh.slice(0, MOST_TRIED)) {
      const kept = keep(why, way);
      if (kept === null || !isWorth(kept)) continue;
      offers.push(kept);
      return kept;
    }
    return null;
  };

  /** A search gives up after many dead ends: in a full book it is begun again half-way to its end, and where that lies. */
  const firstWays = (notBefore: Instant | undefined): Way[] => {
    const from = notBefore ?? job.earliestDropOff;
    const { lastOut } = resident;
    for (const begin of [from, (from + (lastOut - from) / 2) as Instant, lastOut]) {
      if (begin < from) continue;
      const ways = waysWith({ alternatives: DROP_OFFS, shortStay: true, notBefore: begin });
      if (ways.length > 0) return ways;
    }
    return [];
  };
  let first: Way[] = [];
  let soonest: Offer | null = null;
  let notBefore: Instant | undefined;
  for (let blocks = 0; blocks < MOST_BLOCKS && soonest === null; blocks++) {
    first = firstWays(notBefore);
    if (first.length === 0) break;
    const inTurn = sorted(first, (a, b) => a.readyAt - b.readyAt || b.dropOffAt - a.dropOffAt);
    soonest = offer('soonest', blocks === 0 ? inTurn : inTurn.slice(0, MOST_TRIED_LATER));
    notBefore = dayAfter(Math.max(...first.map((each) => each.dropOffAt)) as Instant);
  }
  if (soonest === null) return [];
  if (wantedDropOffAt !== null && wantedDropOffAt > job.earliestDropOff) {
    offer('wantedDay', waysWith({ alternatives: 2, notBefore: wantedDropOffAt }));
  }
  const last = Math.max(...offers.map((each) => each.dropOffAt)) as Instant;
  const later = isWorthTheWait() ? calmestFirst(waysWith({ alternatives: LATER, notBefore: dayAfter(last) })) : [];
  offer('laterDay', later);
  if (isWorthTheWait()) {
    const moving = soonestMovingOthers(resident, job, soonest, isBorne);
    if (moving !== null) offers.push(offerOf(resident, 'movingOthers', moving, displacedBy(moving)));
  }
  if (!isWorthTheWait()) return soonestFirst(offers).map(asSlot);

  const all = [...new Set([...first, ...later])];
  const shorter = (minutesOf: (way: Way) => number, best: number): Way[] =>
    all.filter((way) => minutesOf(way) + WORTH_MINUTES <= best).sort((a, b) => minutesOf(a) - minutesOf(b));
  const least = (minutesOf: (offer: Offer) => number) => Math.min(...offers.map(minutesOf));
  const away = least((each) => each.awayMinutes);
  offer(
    'shortestStay',
    shorter((way) => (way.readyAt - way.dropOffAt) / MINUTE, away),
    (each) => each.awayMinutes + WORTH_MINUTES <= away,
  );
  const inBays = least((each) => each.bayMinutes);
  offer(
    'fewestBayHours',
    shorter((way) => bayMinutes(resident, way.inserted), inBays),
    (each) => each.bayMinutes + WORTH_MINUTES <= inBays,
  );
  return soonestFirst(offers).map(asSlot);
}

function asSlot({ awayMinutes: _, bayMinutes: __, ...slot }: Offer): Slot {
  return slot;
}

/** Waiting for its owner may have made what looked soonest later than another: that other is then the soonest. */
function soonestFirst(offers: readonly Offer[]): Offer[] {
  const movingNobody = offers.filter(({ displaces }) => displaces.length === 0);
  const pickupAt = Math.min(...movingNobody.map((each) => each.pickupAt));
  const soonest = movingNobody.find((each) => each.pickupAt === pickupAt)!;
  if (soonest.why === 'soonest') return [...offers];
  const others = offers.filter((each) => each !== soonest && each.why !== 'soonest');
  return [{ ...soonest, why: 'soonest' }, ...others];
}

/** A drop-off, not before one that does not hold, from which the car can wait for its owner until a pickup. */
function keepElsewhere(resident: ResidentBook, job: Job, notBefore: Instant, pickupAt: Instant): Inserted | null {
  const promise = { pickupAt, givenAt: resident.book.now, confidencePercent: 0 };
  const found = resident.insert({ ...job, promise }, { notBefore });
  const dropOffAt = found !== null && 'length' in found ? found[0]?.planned.dropOffAt : undefined;
  return dropOffAt === undefined
    ? null
    : keepInBook(resident, { ...job, dropOffAt }, { kind: 'thisOrLater', pickupAt });
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
