import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import type { JobInserter } from './insert-job.ts';
import { type InsertOptions, THOROUGH } from './insert-options.ts';
import { dropOff, pickup } from './job-cost.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';

/** Jobs tried for withdrawal, one by one, for a job that is blocked. */
const MOST_SINGLE = 24;
/** Jobs entered over the whole attempt, for each job of the book. */
const ENTRIES_EACH = 8;
const QUICK: InsertOptions = { ...THOROUGH, width: 2, restarts: 12 };

/**
 * Enters jobs that find no time by withdrawing others, which then look for another time themselves: guided ejection search
 * (Nagata and Bräysy 2009, for vehicle routing with time windows). A job that was hard to enter gets a penalty and is
 * not withdrawn lightly again, so that the search does not go in a circle. When it gives up, after so many units of search work at
 * the latest, the book is as it was. Returns what blocked the jobs that stay without a plan; empty when all are entered.
 */
export function makeRoom(
  book: Book,
  inserter: JobInserter,
  blocked: readonly Blocked[],
  mostWork: number,
  isCancelled: () => boolean,
): Blocked[] {
  const until = inserter.work + mostWork;
  const cancelled = () => inserter.work > until || isCancelled();
  const before = book.plans.slice();
  const penalty = new Map<number, number>();
  const why = new Map<number, Blocked>(blocked.map((each) => [each.job, each]));
  const waiting = blocked.map(({ job }) => job);
  for (let entries = ENTRIES_EACH * book.jobs.length; waiting.length > 0 && entries > 0; entries--) {
    if (cancelled()) break;
    waiting.sort((a, b) => Number(isTold(book.jobs[a]!)) - Number(isTold(book.jobs[b]!)) || b - a);
    const j = waiting.pop()!;
    const plan = inserter.insert(j, THOROUGH);
    if (plan !== null) {
      book.enter(j, plan);
      continue;
    }
    why.set(j, inserter.blocked ?? why.get(j)!);
    penalty.set(j, (penalty.get(j) ?? 0) + 1);
    const ejected = ejectFor(book, inserter, j, penalty, cancelled);
    if (ejected === null) {
      waiting.push(j);
      break;
    }
    waiting.push(...ejected);
  }
  if (waiting.length === 0) return [];
  book.restore(before);
  return [...new Set([...blocked.map(({ job }) => job), ...waiting])].flatMap((j) =>
    book.plans[j] === null ? [why.get(j)!] : [],
  );
}

/**
 * Enters `j` and returns whom that cost: the one job that is withdrawn most lightly, where one is enough; else as many as
 * it takes, withdrawn one after another. null when `j` finds no time even so; nobody is withdrawn then.
 */
function ejectFor(
  book: Book,
  inserter: JobInserter,
  j: number,
  penalty: ReadonlyMap<number, number>,
  cancelled: () => boolean,
): number[] | null {
  const weight = (other: number) => (penalty.get(other) ?? 0) + (isTold(book.jobs[other]!) ? 0.5 : 0);
  const near = inTheWay(book, j).sort((a, b) => weight(a) - weight(b));
  for (const other of near.slice(0, MOST_SINGLE)) {
    if (cancelled()) return null;
    const plan = book.withdraw(other);
    if (enterIfItFits(book, inserter, j)) return [other];
    book.enter(other, plan);
  }
  const withdrawn: number[] = [];
  const plans: JobPlan[] = [];
  for (const other of near) {
    if (cancelled()) break;
    plans.push(book.withdraw(other));
    withdrawn.push(other);
    if (enterIfItFits(book, inserter, j)) return withdrawn;
  }
  for (const [k, other] of withdrawn.entries()) book.enter(other, plans[k]!);
  return null;
}

function enterIfItFits(book: Book, inserter: JobInserter, j: number): boolean {
  const plan = inserter.insert(j, QUICK);
  if (plan !== null) book.enter(j, plan);
  return plan !== null;
}

/** Entered jobs that leave after `j` comes, the soonest to come first. Cars that stand in the shop stay where they are. */
function inTheWay(book: Book, j: number): number[] {
  const from = Math.max(book.jobs[j]!.release, toldAt(book.jobs[j]!));
  const comes = (other: number) => dropOff(book.jobs[other]!, book.plans[other]!);
  return [...book.jobs.keys()]
    .filter((other) => {
      const plan = book.plans[other];
      const model = book.jobs[other]!;
      return plan != null && !model.inShop && pickup(model, plan) > from;
    })
    .sort((a, b) => comes(a) - comes(b));
}

/** The told drop-off, which the job cannot leave; -1 when it was told none. */
function toldAt(job: JobModel): number {
  return job.arrival < 0 || job.operations[job.arrival]!.fixing === 'open'
    ? -1
    : job.operations[job.arrival]!.fixedStart;
}

function isTold(job: JobModel): boolean {
  return toldAt(job) >= 0;
}
