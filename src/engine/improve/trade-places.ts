import type { ShopBound } from '../bound/bound.ts';
import type { Book } from '../construct/book.ts';
import { dropOff } from '../construct/job-cost.ts';
import { dropOffsInTime, type Trade } from './drop-off-targets.ts';
import { addSome, baysOf, farthestFromIdeal } from './neighbourhoods.ts';
import type { Random } from './random.ts';

/**
 * A job that stays longer than it could, and jobs in bays that it needs at another time at which its stay would be short: fills
 * `chosen` with at most `size` of them, the first of which should gain. Null when no time would be better, with the job alone.
 */
export function tradePlaces(
  book: Book,
  random: Random,
  size: number,
  chosen: number[],
  bound: ShopBound,
): Trade | null {
  const seed = farthestFromIdeal(book, random, bound);
  chosen.push(seed);
  const job = book.jobs[seed]!;
  const profile = bound.profile(seed);
  if (profile === null) return null;
  const plan = book.plans[seed]!;
  const vacated = dropOff(job, plan);
  const { at, lead } = profile;
  const shorter: number[] = [];
  const inTime = Math.min(at.length, dropOffsInTime(profile, job));
  for (let k = 0; k < inTime; k++) {
    if (lead[k]! < plan.end[job.ready]! - vacated) shorter.push(k);
  }
  if (shorter.length === 0) return null;
  const drawn = shorter[random.below(shorter.length)]!;
  const from = at[drawn]!;
  const to = from + lead[drawn]!;
  const bays = baysOf(book, job);
  const inTheWay: number[] = [];
  for (let j = 0; j < book.jobs.length; j++) {
    if (j !== seed && isInOneOf(bays, book, j, from, to)) inTheWay.push(j);
  }
  addSome(inTheWay, random, size, chosen);
  return { seed, at: from, vacated };
}

function isInOneOf(places: ReadonlySet<number>, book: Book, j: number, from: number, to: number): boolean {
  const plan = book.plans[j]!;
  for (let k = 0; k < plan.place.length; k++) {
    if (places.has(plan.place[k]!) && plan.from[k]! < to && plan.to[k]! > from) return true;
  }
  return false;
}
