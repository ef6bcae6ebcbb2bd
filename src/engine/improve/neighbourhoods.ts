import type { ShopBound } from '../bound/bound.ts';
import { NEVER } from '../calendar/never.ts';
import type { Book } from '../construct/book.ts';
import { dropOff, pickup } from '../construct/job-cost.ts';
import type { JobModel } from '../construct/job-model.ts';
import type { Random } from './random.ts';

const HALF_DAY_MINUTES = 12 * 60;
/** Jobs that come into question for each that is chosen. */
const POOL = 2;

/**
 * A way to choose jobs that should be planned anew together: fills `chosen` with at most `size` of them. True when it is the
 * first that should gain by it.
 */
export type Neighbourhood = (book: Book, random: Random, size: number, chosen: number[], bound: ShopBound) => boolean;

/** Jobs in the same bay about the same time. */
export const sameBay: Neighbourhood = (book, random, size, chosen, bound) => {
  const seed = random.below(book.jobs.length);
  const plan = book.plans[seed]!;
  const stages = [...plan.place.keys()].filter((k) => plan.place[k]! >= 0);
  if (stages.length === 0) return aboutTheSameTime(book, random, size, chosen, bound);
  const stage = stages[random.below(stages.length)]!;
  const place = plan.place[stage]!;
  nearest(book, plan.from[stage]!, size, chosen, (j) => {
    const other = book.plans[j]!;
    const k = other.place.indexOf(place);
    return k < 0 ? -1 : other.from[k]!;
  });
  return false;
};

/** A job that is late, of which there must be one, and jobs that hold bays it could use about one time between its release and its promise. */
export const lateAndInItsWay: Neighbourhood = (book, random, size, chosen) => {
  const late = lateJobs(book);
  // Of two the later one: few are so late that they make up most of the tardiness.
  const one = late[random.below(late.length)]!;
  const other = late[random.below(late.length)]!;
  const seed = lateness(book, one) >= lateness(book, other) ? one : other;
  const job = book.jobs[seed]!;
  const until = Math.max(job.release + 1, Math.min(job.promiseAt, job.dueAt));
  const leaves = pickup(job, book.plans[seed]!);
  const at = job.release + random.below(until - job.release);
  const bays = baysOf(book, job);
  const found: { j: number; away: number }[] = [];
  for (let j = 0; j < book.jobs.length; j++) {
    if (j === seed) continue;
    const plan = book.plans[j]!;
    if (dropOff(book.jobs[j]!, plan) >= leaves || pickup(book.jobs[j]!, plan) <= job.release) continue;
    let away = NEVER;
    for (let k = 0; k < plan.place.length; k++) {
      if (!bays.has(plan.place[k]!)) continue;
      away = Math.min(away, Math.max(0, plan.from[k]! - at, at - plan.to[k]!));
    }
    if (away < NEVER) found.push({ j, away });
  }
  found.sort((a, b) => a.away - b.away || a.j - b.j);
  const pool = found.slice(0, POOL * size).map(({ j }) => j);
  chosen.push(seed);
  addSome(pool, random, size, chosen);
  return true;
};

/** Places with an air zone that a job may stay in. */
export function baysOf(book: Book, job: JobModel): Set<number> {
  return new Set(job.stages.flatMap(({ places }) => places.filter((p) => book.shop.places[p]!.zone >= 0)));
}

function lateness(book: Book, j: number): number {
  const job = book.jobs[j]!;
  return pickup(job, book.plans[j]!) - Math.min(job.promiseAt, job.dueAt);
}

export function isAnyLate(book: Book): boolean {
  for (let j = 0; j < book.jobs.length; j++) if (lateness(book, j) > 0) return true;
  return false;
}

/** Jobs that are picked up after what was promised or wanted. */
function lateJobs(book: Book): number[] {
  const late: number[] = [];
  for (let j = 0; j < book.jobs.length; j++) if (lateness(book, j) > 0) late.push(j);
  return late;
}

/** A job that costs more than it would alone, and jobs that are in the shop while it is. */
export const farFromIdeal: Neighbourhood = (book, random, size, chosen, bound) => {
  const seed = farthestFromIdeal(book, random, bound);
  chosen.push(seed);
  const from = dropOff(book.jobs[seed]!, book.plans[seed]!);
  const to = pickup(book.jobs[seed]!, book.plans[seed]!);
  const inTheWay: number[] = [];
  for (let j = 0; j < book.jobs.length; j++) {
    const job = book.jobs[j]!;
    const plan = book.plans[j]!;
    if (j !== seed && dropOff(job, plan) < to + HALF_DAY_MINUTES && pickup(job, plan) > from - HALF_DAY_MINUTES)
      inTheWay.push(j);
  }
  addSome(inTheWay, random, size, chosen);
  return true;
};

/** Of a few jobs drawn, the one that exceeds what it costs at least by most. */
export function farthestFromIdeal(book: Book, random: Random, bound: ShopBound): number {
  let farthest = random.below(book.jobs.length);
  for (let draw = 0; draw < 3; draw++) {
    const other = random.below(book.jobs.length);
    if (isFarther(book, bound, other, farthest)) farthest = other;
  }
  return farthest;
}

/** Whether `a` exceeds what it costs at least by more than `b` does, in the first tier in which they differ. */
function isFarther(book: Book, bound: ShopBound, a: number, b: number): boolean {
  const { costs } = book;
  for (let k = 0; k < bound.tiers.length; k++) {
    const more = costs[a]![k]! - bound.least[a]![k]! - (costs[b]![k]! - bound.least[b]![k]!);
    if (more !== 0) return more > 0;
  }
  return false;
}

/** Jobs on which one person works within half a day of each other. */
export const onePersonsDay: Neighbourhood = (book, random, size, chosen, bound) => {
  const seed = random.below(book.jobs.length);
  const job = book.jobs[seed]!;
  const plan = book.plans[seed]!;
  const i = random.below(job.operations.length);
  const person = plan.mode[i]! < 0 ? undefined : job.operations[i]!.modes[plan.mode[i]!]!.resources[0];
  if (person === undefined) return aboutTheSameTime(book, random, size, chosen, bound);
  const at = plan.start[i]!;
  nearest(book, at, size, chosen, (j) => {
    const other = book.jobs[j]!;
    const its = book.plans[j]!;
    if (dropOff(other, its) > at + HALF_DAY_MINUTES || pickup(other, its) < at - HALF_DAY_MINUTES) return -1;
    for (let o = 0; o < other.operations.length; o++) {
      if (its.mode[o]! < 0 || Math.abs(its.start[o]! - at) > HALF_DAY_MINUTES) continue;
      if (other.operations[o]!.modes[its.mode[o]!]!.resources.includes(person)) return its.start[o]!;
    }
    return -1;
  });
  return false;
};

/** A job that waits long in the shop, and jobs that arrive about when it does. */
export const longStay: Neighbourhood = (book, random, size, chosen) => {
  let seed = random.below(book.jobs.length);
  for (let draw = 0; draw < 4; draw++) {
    const other = random.below(book.jobs.length);
    if (waiting(book, other) > waiting(book, seed)) seed = other;
  }
  chosen.push(seed);
  const at = dropOff(book.jobs[seed]!, book.plans[seed]!);
  nearest(book, at, size, chosen, (j) => (j === seed ? -1 : dropOff(book.jobs[j]!, book.plans[j]!)));
  return true;
};

/** Jobs that arrive about the same time. */
export const aboutTheSameTime: Neighbourhood = (book, random, size, chosen) => {
  const seed = random.below(book.jobs.length);
  const at = dropOff(book.jobs[seed]!, book.plans[seed]!);
  const pool: number[] = [];
  nearest(book, at, 3 * size, pool, (j) => dropOff(book.jobs[j]!, book.plans[j]!));
  addSome(pool, random, size, chosen);
  return false;
};

function waiting(book: Book, j: number): number {
  const job = book.jobs[j]!;
  const plan = book.plans[j]!;
  return pickup(job, plan) - dropOff(job, plan) - job.leastMinutes;
}

/** Fills `chosen` up to `size` with jobs drawn from a pool, which is shuffled. */
export function addSome(pool: number[], random: Random, size: number, chosen: number[]): void {
  random.shuffle(pool);
  for (let k = 0; k < pool.length && chosen.length < size; k++) chosen.push(pool[k]!);
}

/** The jobs whose instant, when they have one (not -1), is closest to `at`. */
function nearest(book: Book, at: number, size: number, chosen: number[], instantOf: (j: number) => number): void {
  const found: { j: number; away: number }[] = [];
  for (let j = 0; j < book.jobs.length; j++) {
    const instant = instantOf(j);
    if (instant >= 0) found.push({ j, away: Math.abs(instant - at) });
  }
  found.sort((a, b) => a.away - b.away || a.j - b.j);
  for (let k = 0; k < found.length && chosen.length < size; k++) chosen.push(found[k]!.j);
}
