/**
 * When one mode of an operation can begin, and when it then ends. Beginnings are minutes 0..horizon; the end never falls
 * as the beginning grows. NO_START stands for "none earlier", NO_END for "none later".
 */
export interface WorkSpan {
  /** Elapsed minutes when they are the same from every beginning, else undefined. */
  readonly minutes?: number;
  /** Earliest beginning at or after a minute. */
  next(minute: number): number;
  /** Latest beginning at or before a minute. */
  previous(minute: number): number;
  /** End of work begun at a minute at which it can begin. */
  end(start: number): number;
  /** Latest beginning whose end is at most a minute. */
  lastEndingBy(minute: number): number;
  /** Earliest beginning whose end is after a minute. */
  firstEndingAfter(minute: number): number;
}

export const NO_START = -1_000_000_000;
export const NO_END = 1_000_000_000;

/** Work that takes the same time whenever it begins. */
export class SteadySpan implements WorkSpan {
  readonly minutes: number;

  constructor(minutes: number) {
    this.minutes = minutes;
  }

  next(minute: number): number {
    return minute;
  }

  previous(minute: number): number {
    return minute;
  }

  end(start: number): number {
    return start + this.minutes;
  }

  lastEndingBy(minute: number): number {
    return minute - this.minutes;
  }

  firstEndingAfter(minute: number): number {
    return minute + 1 - this.minutes;
  }
}

/** Work bound to calendars, as a list of the minutes at which it can begin and its end from each. */
export class CalendarSpan implements WorkSpan {
  /** Ascending. */
  readonly starts: Int32Array;
  private readonly ends: Int32Array;

  /** Both ascending and of one length. */
  constructor(starts: Int32Array, ends: Int32Array) {
    this.starts = starts;
    this.ends = ends;
  }

  next(minute: number): number {
    const k = firstAtLeast(this.starts, minute);
    return k < this.starts.length ? this.starts[k]! : NO_END;
  }

  previous(minute: number): number {
    const k = firstAtLeast(this.starts, minute + 1) - 1;
    return k >= 0 ? this.starts[k]! : NO_START;
  }

  end(start: number): number {
    if (start <= NO_START) return NO_START;
    const k = firstAtLeast(this.starts, start);
    return k < this.ends.length ? this.ends[k]! : NO_END;
  }

  lastEndingBy(minute: number): number {
    const k = firstAtLeast(this.ends, minute + 1) - 1;
    return k >= 0 ? this.starts[k]! : NO_START;
  }

  firstEndingAfter(minute: number): number {
    const k = firstAtLeast(this.ends, minute + 1);
    return k < this.starts.length ? this.starts[k]! : NO_END;
  }
}

function firstAtLeast(sorted: Int32Array, value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! >= value) high = middle;
    else low = middle + 1;
  }
  return low;
}
