import type { Conflict, ConflictPart, Solution } from '../../engine/problem/solution.ts';
import type { Book, Releases } from '../../trade/formulate/book.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import { whatHappened } from '../floor/what-happened.ts';

/** A problem without a plan, and what the search says of why. */
export interface Named {
  readonly formulation: Formulation;
  readonly conflict: Conflict | undefined;
}

/** A quick look for any plan at all. */
export type QuickSolve = (formulation: Formulation) => Promise<Solution>;

/**
 * The cars that no plan can hold as things stand, so that the others can be planned: first each car that has no plan
 * even alone (a move during cure that nobody can undo), then, of those that hinder one another (two told to stand in one
 * place), whoever came last, until the rest has a plan. Null when not even that helps.
 */
export async function carsToSetAside(book: Book, solve: QuickSolve): Promise<ReadonlySet<JobId> | null> {
  const hasPlan = async (formulation: Formulation) => (await solve(formulation)).schedule !== null;
  const aside = new Set<JobId>();
  for (const job of book.jobs) {
    if (!(await hasPlan(formulate({ ...book, jobs: [job] })))) aside.add(job.id);
  }
  if (aside.size > 0 && (await hasPlan(formulate(book, { aside })))) return aside;
  const here = book.jobs
    .filter((job) => !aside.has(job.id) && standsSince(book, job.id) !== null)
    .sort((a, b) => standsSince(book, b.id)! - standsSince(book, a.id)!);
  for (const job of here) {
    const without = new Set([...aside, job.id]);
    if (await hasPlan(formulate(book, { aside: without }))) return without;
  }
  for (const job of here) {
    aside.add(job.id);
    if (await hasPlan(formulate(book, { aside }))) return aside;
  }
  return null;
}

/**
 * Whichever car the search cannot place is set aside, one after another: most often it is the one, and nobody waits long to
 * hear it. Null when so many are not enough, when nobody is named, or when the search was cut short.
 */
export async function namedSetAside(
  book: Book,
  solve: QuickSolve,
  first: Named,
  most: number,
): Promise<ReadonlySet<JobId> | null> {
  const named = ({ conflict, formulation }: Named) => jobsNamed(conflict, formulation);
  const [one] = named(first);
  return one === undefined ? null : asideUntilPlanned(book, solve, { aside: new Set([one]) }, named, most);
}

/**
 * The last resort, so that the day goes on whatever the facts are: every decision is given up, and cars are set aside, those that
 * the search names first, those to come too, until the others have a plan. Null when the search was cut short.
 */
export async function whateverIsLeft(book: Book, solve: QuickSolve): Promise<Releases | null> {
  const every = new Set(book.jobs.map(({ id }) => id));
  const decisions: Releases = { dropOffsOf: every, windowsOf: every, closuresOf: every, wishesOf: every };
  const everybody = book.jobs.map(({ id }) => id);
  const inTurn = ({ conflict, formulation }: Named) => [...jobsNamed(conflict, formulation), ...everybody];
  const aside = await asideUntilPlanned(book, solve, { ...decisions, aside: new Set() }, inTurn, everybody.length);
  return aside === null ? null : { ...decisions, aside };
}

/**
 * Sets aside one car more, the first in turn that is not yet, until the others have a plan, which nobody always has. Null when the
 * most are not enough, when nobody is in turn, or when the search was cut short.
 */
async function asideUntilPlanned(
  book: Book,
  solve: QuickSolve,
  given: Releases & { readonly aside: ReadonlySet<JobId> },
  inTurn: (found: Named) => readonly JobId[],
  most: number,
): Promise<ReadonlySet<JobId> | null> {
  const aside = new Set(given.aside);
  while (aside.size < book.jobs.length) {
    const formulation = formulate(book, { ...given, aside });
    const { schedule, conflict, interrupted } = await solve(formulation);
    if (schedule !== null) break;
    const next = inTurn({ formulation, conflict }).find((id) => !aside.has(id));
    if (interrupted || aside.size >= most || next === undefined) return null;
    aside.add(next);
  }
  return aside;
}

/** Jobs that are open and in no plan, though there is one: the last plan had to set them aside. */
export function setAsideBefore({ previousPlan, jobs }: Book): Set<JobId> {
  const aside = new Set<JobId>();
  if (previousPlan === null) return aside;
  const planned = new Set<JobId>();
  for (const { jobId } of previousPlan.jobs) planned.add(jobId);
  for (const { id } of jobs) if (!planned.has(id)) aside.add(id);
  return aside;
}

/** When a car came to the place where it stands; null when it is not here. */
function standsSince(book: Book, jobId: JobId): number | null {
  const events = book.events.filter((event) => event.jobId === jobId);
  const last = whatHappened(events, book.now).stays.at(-1);
  return last === undefined || last.to !== null ? null : last.from;
}

/** The jobs that a conflict is about, in its order; parts that are nobody's left out. */
export function jobsNamed(conflict: Conflict | undefined, formulation: Formulation): readonly JobId[] {
  const { problem, jobs, operations } = formulation;
  return (conflict?.parts ?? []).flatMap(({ kind, index }): JobId[] => {
    if (kind === 'opening') return ofJob(jobs[index]?.job.id);
    if (kind === 'stay') return ofJob(jobs[problem.stays[index]?.job ?? -1]?.job.id);
    const byOperation: readonly ConflictPart['kind'][] = ['operation', 'release', 'deadline', 'fixed'];
    return byOperation.includes(kind) ? ofJob(operations[index]?.jobId) : [];
  });
}

const ofJob = (id: JobId | undefined): JobId[] => (id === undefined ? [] : [id]);
