import type { Interval } from './problem.ts';

/** A problem that contradicts itself: each fault names the field, as a path into the problem, and says what is wrong. */
export class ProblemError extends Error {
  readonly faults: readonly string[];

  constructor(faults: readonly string[]) {
    super(`The scheduling problem is not valid: ${faults.slice(0, 5).join(' ')}${faults.length > 5 ? ' ...' : ''}`);
    this.name = 'ProblemError';
    this.faults = faults;
  }
}

/** Collects faults. `field` is a path such as `operations[3].modes[0].work`. */
export class Faults {
  readonly list: string[] = [];
  /** Interval lists found sound: one list of hours is often shared by many modes. */
  private readonly sound = new WeakSet<object>();

  add(field: string, fault: string): void {
    this.list.push(`${field}: ${fault}.`);
  }

  /** A whole number from `least` on, small enough to be added up safely. */
  whole(field: string, value: number | undefined, least = 0): void {
    if (value === undefined) return;
    if (!Number.isInteger(value) || value < least || value > MOST) {
      this.add(field, `must be a whole number from ${least} to ${MOST}, not ${value}`);
    }
  }

  index(field: string, value: number | undefined, length: number, what: string): boolean {
    if (value === undefined) return true;
    if (Number.isInteger(value) && value >= 0 && value < length) return true;
    this.add(field, `there is no ${what} ${value}`);
    return false;
  }

  interval(field: string, { from, to }: Interval): void {
    this.whole(`${field}.from`, from);
    this.whole(`${field}.to`, to);
    if (to <= from) this.add(field, `ends at ${to}, not after it begins at ${from}`);
  }

  /** Sorted and disjoint, none empty; touching is allowed. */
  intervals(field: string, intervals: readonly Interval[] | undefined): void {
    if (intervals === undefined || this.sound.has(intervals)) return;
    const before = this.list.length;
    this.eachInterval(field, intervals);
    if (this.list.length === before) this.sound.add(intervals);
  }

  private eachInterval(field: string, intervals: readonly Interval[]): void {
    for (const [k, interval] of intervals.entries()) {
      this.interval(`${field}[${k}]`, interval);
      const before = intervals[k - 1];
      if (before === undefined || interval.from >= before.to) continue;
      this.add(`${field}[${k}]`, `begins at ${interval.from}, before the one before it ends at ${before.to}`);
    }
  }
}

/** Minutes and amounts stay far below the range in which sums of products would lose whole numbers. */
const MOST = 2 ** 31 - 1;
