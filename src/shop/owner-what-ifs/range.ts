import type { Range } from './what-if.ts';

/** The middle of some figures (between the two middle ones, when they are even in number) with their ends; zeros of none. */
export function rangeOf(figures: readonly number[]): Range {
  const sorted = [...figures].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  const median = ((sorted[Math.ceil(middle) - 1] ?? 0) + (sorted[Math.floor(middle)] ?? 0)) / 2;
  return { median, least: sorted[0] ?? 0, most: sorted.at(-1) ?? 0 };
}
