import type { ShopBound } from '../bound/bound.ts';
import { MOST_JOBS_MIDDLING, MOST_JOBS_SMALL } from '../construct/best-first-plan.ts';
import type { Book } from '../construct/book.ts';
import { comeLaterEach } from '../construct/come-later-each.ts';
import { enterCarefully } from '../construct/enter-carefully.ts';
import type { JobInserter } from '../construct/insert-job.ts';
import type { JobPlan } from '../construct/job-plan.ts';
import { reinsertEach } from '../construct/reinsert-each.ts';
import { Annealing } from './annealing.ts';
import { JobChooser } from './job-chooser.ts';
import { LateAcceptance } from './late-acceptance.ts';
import { Random } from './random.ts';
import { Recreator } from './recreate.ts';
import { compareTiers } from './tiers.ts';

export interface ImproveOptions {
  readonly seed: number;
  /** Ends the search when the inserter's work reaches it. */
  readonly workLimit: number;
  /** Whether to stop now; asked between two steps. */
  readonly stop: () => boolean;
  /** Told at each better plan, which is in the book then. */
  readonly onBetter: (objective: Float64Array) => void;
  /** Whether the plan in the book obeys every rule; asked of each better plan. A plan that does not is given up. */
  readonly isSound: () => boolean;
  /** Whether all jobs were entered just now, and not carried on from a plan that stood. */
  readonly fromNothing: boolean;
  /** No plan can be better than this in any tier; reaching it everywhere ends the search. It rises on the way. */
  readonly bound: ShopBound;
}

const HISTORY_LENGTH = 5;
/** Chance that nothing saved may cost tardiness: what is pushed far out to keep one promise more is hard to bring back. */
const NO_LATER = 0.5;
/** For so many steps after a better plan that is certain, and in a large book always: a search of seconds brings hardly anybody back there. */
const PATIENCE = 60;
/** A book of more jobs is mended before it is entered once more, which a short search does not get to the end of. */
const MOST_JOBS_ENTERED_FIRST = 1_200;

/**
 * Ruin and recreate: a few jobs that have to do with each other are withdrawn from the book and entered anew, in
 * another order. What is left to save says what each may cost, so that most attempts end early. Where that finds nothing for long, the
 * search is heated. Ends with the best plan found in the book.
 */
export function improve(book: Book, inserter: JobInserter, options: ImproveOptions): void {
  const { bound } = options;
  const random = new Random(options.seed);
  const recreator = new Recreator(book, inserter, bound, random);
  const tiers = book.shop.problem.tiers.length;
  const current = new Float64Array(tiers);
  book.objective(current);
  const best = current.slice();
  let bestPlans = book.plans.slice();
  let sinceBetter = 0;
  const isSpent = () => inserter.work + bound.work >= options.workLimit || options.stop();

  /** Keeps the plan in the book when it is the best so far; goes back to that when it breaks a rule. True when it was kept. */
  function judge(): boolean {
    book.objective(current);
    if (compareTiers(current, best) >= 0) return false;
    if (!options.isSound()) {
      book.restore(bestPlans);
      current.set(best);
      return false;
    }
    best.set(current);
    bestPlans = book.plans.slice();
    sinceBetter = 0;
    options.onBetter(best);
    return true;
  }

  const isLarge = book.jobs.length > MOST_JOBS_MIDDLING;
  if (book.jobs.length > MOST_JOBS_SMALL) {
    if (options.fromNothing) {
      if (book.jobs.length > MOST_JOBS_ENTERED_FIRST) comeLaterEach(book, inserter, isSpent, judge);
      enterCarefully(book, inserter, isSpent, judge);
      current.set(best);
    }
    // The plan gave each car its hour before it knew of the cars after it.
    comeLaterEach(book, inserter, isSpent, judge);
  }
  if (compareTiers(best, bound.tiers) > 0) reinsertEach(book, inserter, bound, isSpent, judge);
  const acceptance = new LateAcceptance(HISTORY_LENGTH, current);
  const annealing = new Annealing(book.shop.problem.tiers.indexOf('lead'), tiers, book.jobs.length, random);
  const chooser = new JobChooser(book, bound, random);
  const { chosen } = chooser;
  const before: JobPlan[] = [];

  while (!isSpent() && book.jobs.length > 0 && compareTiers(best, bound.tiers) > 0) {
    // A round that led nowhere is given up.
    if (annealing.step(sinceBetter) && compareTiers(best, current) < 0) {
      book.restore(bestPlans);
      current.set(best);
    }
    chooser.choose();
    before.length = 0;
    for (const j of chosen) before.push(book.withdraw(j));
    const limit = (annealing.isCold ? acceptance : annealing).limit(current);
    const done = recreator.enter(chooser, before, limit, isLarge || sinceBetter < PATIENCE || random.unit() < NO_LATER);
    if (done) judge();
    else {
      for (let k = 0; k < recreator.entered; k++) book.withdraw(chosen[k]!);
      for (const [k, j] of chosen.entries()) book.enter(j, before[k]!);
    }
    sinceBetter++;
    acceptance.step(current);
  }
  book.restore(bestPlans);
}
