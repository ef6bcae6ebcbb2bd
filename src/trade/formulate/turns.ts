import type { JobId } from '../model/ids.ts';
import { textHash } from '../model/text-hash.ts';

/**
 * Where there is more to choose from than an operation is given, it is divided into so many turns that none has more than `most`,
 * and each job has one of them: every part is used, by some. Powers of two, so that jobs alike in one choice are alike in the others.
 */
export function turnsOf(count: number, most: number): number {
  let turns = 1;
  while (count > turns * most) turns *= 2;
  return turns;
}

/** A number that stays a job's own whatever else is in the book, spread evenly. */
export function turnOf(id: JobId): number {
  const hash = textHash(id);
  return (hash ^ (hash >>> 15)) >>> 0;
}
