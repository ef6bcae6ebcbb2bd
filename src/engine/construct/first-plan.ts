import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import type { JobInserter } from './insert-job.ts';
import { BRIEF, THOROUGH } from './insert-options.ts';
import type { JobModel } from './job-model.ts';

/** How often jobs that found no time are put first and everything is planned anew. */
const MOST_ROUNDS = 6;

/** How long after the soonest minute cars in the shop are taken to be gone, when they wait for one another. */
const PATIENCES_MINUTES = [0, 60, 240];

/**
 * Enters every job that is not in the book yet, one after another. Cars that stand in the shop come first, then what
 * somebody fixed, then by the latest start that could keep the promise. A job that finds no time goes to the head of
 * the next round. Returns what blocked the jobs that found none; empty when all are planned.
 */
export function firstPlan(book: Book, inserter: JobInserter, cancelled: () => boolean): Blocked[] {
  const open = [...book.jobs.keys()].filter((j) => book.plans[j] === null);
  const urgency = new Map(open.map((j) => [j, rank(book.jobs[j]!)]));
  const failures = new Map<number, number>();
  let blocked: Blocked[] = [];
  for (let round = 0; round < MOST_ROUNDS; round++) {
    open.sort(
      (a, b) =>
        Number(book.jobs[b]!.fixed) - Number(book.jobs[a]!.fixed) ||
        (failures.get(b) ?? 0) - (failures.get(a) ?? 0) ||
        urgency.get(a)! - urgency.get(b)! ||
        a - b,
    );
    // One car in the shop may wait for another to leave its next place: nobody new comes in between.
    const inShop = open.filter((j) => book.jobs[j]!.inShop);
    const stuck = enterInShop(book, inserter, inShop, cancelled);
    const others = open.filter((j) => !book.jobs[j]!.inShop);
    blocked = enterInOrder(book, inserter, [...stuck, ...others], cancelled);
    if (blocked.length === 0 || cancelled()) return blocked;
    for (const { job } of blocked) failures.set(job, (failures.get(job) ?? 0) + 1);
    if (round + 1 < MOST_ROUNDS) for (const j of open) if (book.plans[j] !== null) book.withdraw(j);
  }
  return blocked;
}

/** Enters the cars in the shop; those that wait for one another with more and more patience. Returns the stuck. */
function enterInShop(book: Book, inserter: JobInserter, order: readonly number[], cancelled: () => boolean): number[] {
  let stuck = enterInOrder(book, inserter, order, cancelled).map(({ job }) => job);
  for (const patience of stuck.length > 1 ? PATIENCES_MINUTES : []) {
    book.assumePatience(patience);
    stuck = enterInOrder(book, inserter, stuck, cancelled).map(({ job }) => job);
    book.assumePatience(NEVER);
    if (stuck.length < 2) break;
  }
  return stuck;
}

/** Enters jobs in the given order; a job that finds no time waits for the others, in case one of them frees its way. */
function enterInOrder(
  book: Book,
  inserter: JobInserter,
  order: readonly number[],
  cancelled: () => boolean,
): Blocked[] {
  let waiting = [...order];
  for (;;) {
    const blocked: Blocked[] = [];
    const still: number[] = [];
    for (const j of waiting) {
      const plan = cancelled() ? null : (inserter.insert(j, BRIEF) ?? inserter.insert(j, THOROUGH));
      if (plan !== null) {
        book.enter(j, plan);
        continue;
      }
      still.push(j);
      blocked.push(inserter.blocked ?? { job: j, operation: -1, obstacle: 'mode', index: -1 });
    }
    if (still.length === 0 || still.length === waiting.length) return blocked;
    waiting = still;
  }
}

/** The latest start that could keep the promise; without a promise, the release. */
function rank(job: JobModel): number {
  const wanted = Math.min(job.promiseAt, job.dueAt);
  return Math.min(wanted - job.leastMinutes, job.release + 7 * 24 * 60);
}
