import type { Book } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import { formulateWithout, standsSince } from './formulate-without.ts';

/** Whether a formulation has a plan at all. */
export type HasPlan = (formulation: Formulation) => Promise<boolean>;

/**
 * The cars that no plan can hold as things stand, so that the others can be planned: first each car that has no plan
 * even alone (a move during cure that nobody can undo), then, of those that hinder one another (two told to stand in one
 * place), whoever came last, until the rest has a plan. Null when not even that helps.
 */
export async function carsToSetAside(book: Book, hasPlan: HasPlan): Promise<ReadonlySet<JobId> | null> {
  const aside = new Set<JobId>();
  for (const job of book.jobs) {
    const alone = { ...book, jobs: [job] };
    if (!(await hasPlan(formulateWithout(alone, new Set())))) aside.add(job.id);
  }
  if (aside.size > 0 && (await hasPlan(formulateWithout(book, aside)))) return aside;
  const here = book.jobs
    .filter((job) => !aside.has(job.id) && standsSince(book, job.id) !== null)
    .sort((a, b) => standsSince(book, b.id)! - standsSince(book, a.id)!);
  for (const job of here) {
    const without = new Set([...aside, job.id]);
    if (await hasPlan(formulateWithout(book, without))) return without;
  }
  for (const job of here) {
    aside.add(job.id);
    if (await hasPlan(formulateWithout(book, aside))) return aside;
  }
  return null;
}
