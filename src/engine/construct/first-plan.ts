import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import { type EntryOrder, leastSlack } from './entry-order.ts';
import type { JobInserter } from './insert-job.ts';
import { BRIEF, type InsertOptions, THOROUGH } from './insert-options.ts';
import { pickup } from './job-cost.ts';
import type { JobPlan } from './job-plan.ts';

/** How closely a gap is looked for that a full book has farther out. */
const HALVINGS = 3;
const FEW_RESTARTS = 6;

/** How long after the soonest minute cars in the shop are taken to be gone, when they wait for one another. */
const PATIENCES_MINUTES = [0, 60, 240];

/** How to enter the jobs of a plan. */
export interface FirstPlanOptions {
  readonly order: EntryOrder;
  readonly effort: InsertOptions;
  /** How often jobs that found no time are put first and everything is planned anew. */
  readonly rounds: number;
}

/** For the jobs that a plan at hand lacks. */
export const BY_SLACK: FirstPlanOptions = { order: leastSlack(1, 7), effort: BRIEF, rounds: 2 };

/**
 * Enters every job that is not in the book yet, one after another. Cars that stand in the shop come first, then what
 * somebody fixed, then by `order`. A job that finds no time goes to the head of
 * the next round. Returns what blocked the jobs that found none; empty when all are planned.
 */
export function firstPlan(
  book: Book,
  inserter: JobInserter,
  { order, effort, rounds }: FirstPlanOptions,
  cancelled: () => boolean,
): Blocked[] {
  const open = [...book.jobs.keys()].filter((j) => book.plans[j] === null);
  const rank = new Map(open.map((j) => [j, order(book.jobs[j]!)]));
  const failures = new Map<number, number>();
  let blocked: Blocked[] = [];
  for (let round = 0; round < rounds; round++) {
    open.sort(
      (a, b) =>
        Number(book.jobs[b]!.fixed) - Number(book.jobs[a]!.fixed) ||
        (failures.get(b) ?? 0) - (failures.get(a) ?? 0) ||
        rank.get(a)! - rank.get(b)! ||
        a - b,
    );
    // One car in the shop may wait for another to leave its next place: nobody new comes in between.
    const inShop = open.filter((j) => book.jobs[j]!.inShop);
    const stuck = enterInShop(book, inserter, inShop, effort, cancelled);
    const others = open.filter((j) => !book.jobs[j]!.inShop);
    blocked = enterInOrder(book, inserter, [...stuck, ...others], effort, cancelled);
    if (blocked.length === 0 || cancelled()) return blocked;
    for (const { job } of blocked) failures.set(job, (failures.get(job) ?? 0) + 1);
    if (round + 1 < rounds) for (const j of open) if (book.plans[j] !== null) book.withdraw(j);
  }
  return blocked;
}

/** Enters the cars in the shop; those that wait for one another with more and more patience. Returns the stuck. */
function enterInShop(
  book: Book,
  inserter: JobInserter,
  order: readonly number[],
  effort: InsertOptions,
  cancelled: () => boolean,
): number[] {
  const waiting = enterInOrder(book, inserter, order, effort, cancelled).map(({ job }) => job);
  if (waiting.length < 2) return waiting;
  const patiently = (some: readonly number[], patience: number) => {
    book.assumePatience(patience);
    const stuck = enterInOrder(book, inserter, some, effort, cancelled).map(({ job }) => job);
    book.assumePatience(NEVER);
    return stuck;
  };
  let stuck = waiting;
  for (const patience of PATIENCES_MINUTES) if (stuck.length > 1) stuck = patiently(stuck, patience);
  if (stuck.length > 0) stuck = patiently(stuck, NEVER);
  // Who got away first may have been too quick for the last, who was to be gone from there: then all of them
  // take more time, the last first.
  for (const patience of PATIENCES_MINUTES) {
    if (stuck.length === 0 || cancelled()) break;
    for (const j of waiting) if (book.plans[j] !== null) book.withdraw(j);
    stuck = patiently([...new Set([...stuck, ...waiting])], patience);
    if (stuck.length > 0) stuck = patiently(stuck, NEVER);
  }
  return stuck;
}

/** Enters jobs in the given order; a job that finds no time waits for the others, in case one of them frees its way. */
function enterInOrder(
  book: Book,
  inserter: JobInserter,
  order: readonly number[],
  effort: InsertOptions,
  cancelled: () => boolean,
): Blocked[] {
  let waiting = [...order];
  for (;;) {
    const blocked: Blocked[] = [];
    const still: number[] = [];
    for (const j of waiting) {
      const plan = cancelled() ? null : insertSomewhere(book, inserter, j, effort);
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

/** As early as it goes; in a full book half-way to when everybody has left, and between; at last with all effort. */
function insertSomewhere(book: Book, inserter: JobInserter, j: number, effort: InsertOptions): JobPlan | null {
  const soon = inserter.insert(j, effort);
  const job = book.jobs[j]!;
  if (soon !== null || job.inShop || job.fixed) return soon ?? inserter.insert(j, THOROUGH);
  let full = Math.max(job.release, book.shop.now);
  let free = full;
  for (const [other, plan] of book.plans.entries()) {
    if (plan !== null) free = Math.max(free, pickup(book.jobs[other]!, plan));
  }
  let best = inserter.insert(j, { ...effort, notBefore: free, restarts: FEW_RESTARTS });
  for (let halving = 0; best !== null && halving < HALVINGS; halving++) {
    const half = Math.floor((full + free) / 2);
    const plan = inserter.insert(j, { ...effort, notBefore: half, restarts: FEW_RESTARTS });
    if (plan === null) full = half;
    else [best, free] = [plan, half];
  }
  return best ?? inserter.insert(j, THOROUGH);
}
