import type { Book } from '../construct/book.ts';
import { dropOff } from '../construct/job-cost.ts';
import type { Random } from './random.ts';

/**
 * Puts the jobs in the order in which they are entered anew; cars in the shop always first, since what is a fact of them gives
 * way to nobody, then what is fixed, then `seed` (-1: nobody).
 */
export function orderForEntry(book: Book, random: Random, chosen: number[], seed: number): void {
  const draw = random.below(5);
  if (draw < 4) random.shuffle(chosen);
  const key = (j: number) => {
    const job = book.jobs[j]!;
    if (draw === 1) return Math.min(job.promiseAt, job.dueAt) - job.leastMinutes;
    if (draw === 2) return dropOff(job, book.plans[j]!);
    return draw === 3 ? -job.leastMinutes : 0;
  };
  const keys = new Map(chosen.map((j) => [j, key(j)]));
  const rank = (j: number) => (book.jobs[j]!.inShop ? 0 : book.jobs[j]!.fixed ? 1 : j === seed ? 2 : 3);
  chosen.sort((a, b) => rank(a) - rank(b) || keys.get(a)! - keys.get(b)!);
}
