import { type ClockKind, clockOf } from '../figures/clock.ts';
import { type BookSpec, bookOf } from './book-of.ts';
import { type BookFigures, measureBook } from './measure-book.ts';

/** One size of book in a process of its own, so that its peak memory is its own. */
export interface SizeTask extends BookSpec {
  readonly seeds: readonly number[];
  /** Instants at which the plan at hand is looked at. */
  readonly seconds: readonly number[];
  readonly clock: ClockKind;
  /** Whether to plan by the rules as well, which takes longer than anything else in a large book. */
  readonly rules: boolean;
}

export interface SizeFigures extends SizeTask {
  readonly books: readonly (BookFigures & { readonly seed: number; readonly formulateMs: number })[];
  /** Before the first book and at the peak. */
  readonly baseMegabytes: number;
  readonly peakMegabytes: number;
}

process.once('message', (task: SizeTask) => {
  const clock = clockOf(task.clock);
  // A small book first: what is measured is a process that has planned before.
  measureBook(bookOf({ ...task, jobs: 10, copies: 1 }, 1, clock).problem, 1, [0.3], clock, task.rules);
  const baseMegabytes = process.memoryUsage.rss() / 1e6;
  const books = task.seeds.map((seed) => {
    const { problem, formulateMs } = bookOf(task, seed, clock);
    return { seed, formulateMs, ...measureBook(problem, seed, task.seconds, clock, task.rules) };
  });
  const peakMegabytes = process.resourceUsage().maxRSS / 1e3;
  process.send!({ ...task, books, baseMegabytes, peakMegabytes } satisfies SizeFigures, () => process.disconnect());
});
