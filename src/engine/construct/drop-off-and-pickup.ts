import { NEVER } from '../calendar/never.ts';
import type { Book } from './book.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';

/**
 * When the car is dropped off for its first stay `k`: at the start of the arrival, or else as late as the first work, the
 * opening hours and the cars in the way allow. -1 when there is no such minute from `earliest` on.
 */
export function dropOffMinute(book: Book, job: JobModel, plan: JobPlan, k: number, earliest: number): number {
  if (job.arrival >= 0) return plan.start[job.arrival]!;
  const stage = job.stages[k]!;
  let at = NEVER;
  for (let i = stage.opsFrom; i < stage.opsTo; i++) {
    if (job.operations[i]!.inStay && plan.mode[i]! >= 0) at = Math.min(at, plan.start[i]!);
  }
  if (at >= NEVER) at = earliest;
  for (; at >= earliest; at--) {
    if (job.dropOffOpen !== null) at = job.dropOffOpen.lastInside(at);
    for (const still of job.stills) {
      if (plan.mode[still.from]! < 0) continue;
      const from = plan.edge(still.from, still.fromEnd);
      if (at >= from && (plan.mode[still.to]! < 0 || at < plan.edge(still.to, still.toEnd))) at = from - 1;
    }
    if (at >= earliest && passageUntil(book, plan.place[k]!, at) < 0) return at;
  }
  return -1;
}

/** When a car that has no handover can be picked up from its last place, from minute `ready` on. */
export function pickupMinute(book: Book, job: JobModel, plan: JobPlan, place: number, ready: number): number {
  let at = ready;
  for (;;) {
    const before = at;
    if (job.pickupOpen !== null) at = job.pickupOpen.nextInside(at);
    for (const still of job.stills) {
      if (plan.mode[still.from]! < 0 || plan.mode[still.to]! < 0) continue;
      if (at >= plan.edge(still.from, still.fromEnd)) at = Math.max(at, plan.edge(still.to, still.toEnd));
    }
    at = Math.max(at, passageUntil(book, place, at));
    if (at === before || at >= NEVER) return at;
  }
}

/** Until when another car stands in the way of one that drives in or out at `minute`; -1 when none does. */
export function passageUntil(book: Book, place: number, minute: number): number {
  const { levels, shop } = book;
  let until = -1;
  for (const blocker of shop.places[place]!.blockedBy) {
    until = Math.max(until, levels.lastAbove(shop.places[blocker]!.cars, minute, minute + 1, 0));
  }
  return until;
}
