import { localDate } from '../../trade/calendar/local-instant.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { WAITS_AT_THE_DOOR_MINUTES } from '../../trade/formulate/job-terms.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { loadBook } from '../planning/load-book.ts';
import { NothingFits } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { withLessons } from '../promises/floor-lessons.ts';
import type { ToRaise } from '../records/raise-exception.ts';
import type { BookingRequest } from './booking-request.ts';
import { draftJob, mustBeAnswered, mustBeBookable } from './draft-job.ts';
import type { Nearest } from './nearest.ts';
import { nearestSlot, slotOf } from './nearest-slot.ts';
import { pickupFor } from './pickup-for.ts';
import { isPlaced, placeJob } from './place-job.ts';
import { standingBook } from './standing-book.ts';

/** A car that stands in the shop, in a checked plan with its promise, and the book the plan was made from. */
export interface Taken {
  readonly job: Job;
  readonly plan: Plan;
  readonly exceptions: readonly ToRaise[];
  readonly book: Book;
}

interface Asked {
  readonly shopId: ShopId;
  readonly request: BookingRequest;
}

/**
 * Plans a car that stands at the door now, if its work begins soon and it is ready today: from the open book, or where that
 * has no place for it by planning the whole with it.
 * @throws NotFound (shop), Refused, NothingFits (with the nearest slot), PlanRejected, Busy
 */
export async function takeAtTheDoor(deps: PlanningDeps, asked: Asked, id: JobId, now: Instant): Promise<Taken> {
  const taken = (await fromOpenBook(deps, asked, id, now)) ?? (await plannedAnew(deps, asked, id, now));
  return { ...taken, job: { ...taken.job, state: 'inShop', dropOffAt: now, cameAt: now } };
}

async function fromOpenBook(deps: PlanningDeps, input: Asked, id: JobId, now: Instant): Promise<Taken | null> {
  if (deps.desk === undefined) return null;
  const standing = await standingBook(deps.store, input.shopId, now);
  const book = { ...standing.book, now };
  const asked = askedNow(input, id, book);
  const first = await deps.desk.ask(standing, { kind: 'nearest', job: asked });
  if (first.kind !== 'slots') return null;
  const slot = first.slots[0]!;
  // Planned anew, others may make room for it.
  if (!suits(slot, book)) return null;
  const { dropOffAt, pickupAt } = slot;
  const job = { ...asked, dropOffAt };
  const kept = await deps.desk.ask(standing, { kind: 'keep', job, pickupAt, reason: 'walk-in' });
  if (kept.kind !== 'kept') return null;
  const promise = kept.job.promise && { ...kept.job.promise, givenAt: now };
  return { job: { ...kept.job, promise }, plan: kept.plan, exceptions: kept.exceptions, book };
}

async function plannedAnew(deps: PlanningDeps, input: Asked, id: JobId, now: Instant): Promise<Taken> {
  const book = await withLessons(deps.store, await loadBook(deps.store, input.shopId, now));
  const asked = askedNow(input, id, book);
  const placed = await placeJob(deps, book, asked);
  const slot = isPlaced(placed) ? slotOf(placed) : null;
  if (!isPlaced(placed) || slot === null || !suits(slot, book)) {
    return refuse(isPlaced(placed) ? [] : placed.reasons, slot ?? (await nearestSlot(deps, book, asked)));
  }
  const { plan, exceptions } = placed.draft;
  return { job: { ...asked, promise: { ...pickupFor(placed.draft, id)!, givenAt: now } }, plan, exceptions, book };
}

function askedNow({ request }: Asked, id: JobId, book: Book): Job {
  const asked: Job = { ...draftJob(request, id, book), state: 'booked', earliestDropOff: book.now };
  mustBeAnswered(mustBeBookable(asked, book));
  return asked;
}

/** Whether somebody at the door waits that long, and drives home today. */
function suits(slot: Nearest, { now, shop }: Book): boolean {
  if (slot.dropOffAt > now + WAITS_AT_THE_DOOR_MINUTES * 60_000) return false;
  return localDate(slot.readyAt, shop.timeZone) === localDate(now, shop.timeZone);
}

function refuse(reasons: readonly Objection[], nearest: Nearest | null): never {
  throw new NothingFits('It cannot be taken now and be ready today.', '', reasons, nearest);
}
