import type { ShopBound } from '../bound/bound.ts';
import { MOST_JOBS_SMALL } from '../construct/best-first-plan.ts';
import type { Book } from '../construct/book.ts';
import type { Trade } from './drop-off-targets.ts';
import {
  aboutTheSameTime,
  farFromIdeal,
  isAnyLate,
  lateAndInItsWay,
  longStay,
  type Neighbourhood,
  onePersonsDay,
  sameBay,
} from './neighbourhoods.ts';
import { orderForEntry } from './order-for-entry.ts';
import type { Random } from './random.ts';
import type { Choice } from './recreate.ts';
import { tradePlaces } from './trade-places.ts';

/** One entry is one chance in all of them. */
const NEIGHBOURHOODS: readonly Neighbourhood[] = [
  sameBay,
  onePersonsDay,
  longStay,
  aboutTheSameTime,
  farFromIdeal,
  farFromIdeal,
  farFromIdeal,
];
/** Most operations planned anew in one step. */
const MOST_OPERATIONS = 150;
/** Chance that a late job is looked at, while there is one. */
const LATE = 0.5;
/** Chance that else a job is to take others' place, in a small book: a large one has quicker gains; and how many of those give way at most. */
const TRADE = 0.5;
const MOST_TRADING = 6;
/** Chance that the job a neighbourhood began with must cost less than before. */
const GAIN = 0.7;

/** Chooses the jobs that a step withdraws and enters anew, in the order in which they are entered. */
export class JobChooser implements Choice {
  readonly chosen: number[] = [];
  seed = -1;
  trade: Trade | null = null;
  readonly #book: Book;
  readonly #bound: ShopBound;
  readonly #random: Random;
  readonly #mostJobs: number;

  constructor(book: Book, bound: ShopBound, random: Random) {
    this.#book = book;
    this.#bound = bound;
    this.#random = random;
    const operations = book.jobs.reduce((sum, job) => sum + job.operations.length, 0);
    const average = Math.max(1, operations / Math.max(1, book.jobs.length));
    this.#mostJobs = Math.max(2, Math.min(book.jobs.length, Math.floor(MOST_OPERATIONS / average)));
  }

  choose(): void {
    const book = this.#book;
    const random = this.#random;
    this.chosen.length = 0;
    this.trade = null;
    if (random.unit() < LATE && isAnyLate(book)) this.#chooseFrom(lateAndInItsWay);
    else if (book.jobs.length <= MOST_JOBS_SMALL && random.unit() < TRADE) this.#chooseTrade();
    else this.#chooseFrom(NEIGHBOURHOODS[random.below(NEIGHBOURHOODS.length)]!);
    orderForEntry(book, random, this.chosen, this.seed);
  }

  #chooseTrade(): void {
    const size = 2 + this.#random.below(MOST_TRADING - 1);
    this.trade = tradePlaces(this.#book, this.#random, size, this.chosen, this.#bound);
    this.seed = this.chosen[0]!;
  }

  #chooseFrom(neighbourhood: Neighbourhood): void {
    const random = this.#random;
    const size = 1 + random.below(1 + random.below(this.#mostJobs));
    const begins = neighbourhood(this.#book, random, size, this.chosen, this.#bound);
    this.seed = begins && random.unit() < GAIN ? this.chosen[0]! : -1;
  }
}
