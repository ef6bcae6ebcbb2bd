import type { JobId } from '../model/ids.ts';

/**
 * Where there is more to choose from than an operation is given, it is divided into so many turns that none has more than `most`,
 * and each job has one of them: every part is used, by some. Powers of two, so that jobs alike in one choice are alike in the others.
 */
export function turnsOf(count: number, most: number): number {
  let turns = 1;
  while (count > turns * most) turns *= 2;
  return turns;
}

/** A number that stays a job's own whatever else is in the book, spread evenly (FNV-1a: Fowler, Noll and Vo 1991). */
export function turnOf(id: JobId): number {
  let hash = 0x811c9dc5;
  for (let k = 0; k < id.length; k++) hash = Math.imul(hash ^ id.charCodeAt(k), 0x01000193);
  return (hash ^ (hash >>> 15)) >>> 0;
}
