import { NO_END, NO_START } from './work-span.ts';

/** What a mode costs by the minute at which it is begun; minutes at which it cannot be begun are passed over. */
export interface CostByStart {
  /** The least cost of a start in [from, to]; at least some such start is possible. */
  least(from: number, to: number): number;
  /** The earliest start at or after a minute that costs at most so much; NO_END when none does. */
  firstAtMost(minute: number, most: number): number;
  /** The latest start at or before a minute that costs at most so much; NO_START when none does. */
  lastAtMost(minute: number, most: number): number;
}

/** The distance from a minute, and something besides. */
export class DistanceCost implements CostByStart {
  private readonly wanted: number;
  private readonly besides: number;

  constructor(wanted: number, besides: number) {
    this.wanted = wanted;
    this.besides = besides;
  }

  least(from: number, to: number): number {
    return this.besides + Math.max(0, from - this.wanted, this.wanted - to);
  }

  firstAtMost(minute: number, most: number): number {
    const room = most - this.besides;
    const first = Math.max(minute, this.wanted - room);
    return room < 0 || first > this.wanted + room ? NO_END : first;
  }

  lastAtMost(minute: number, most: number): number {
    const room = most - this.besides;
    const last = Math.min(minute, this.wanted + room);
    return room < 0 || last < this.wanted - room ? NO_START : last;
  }
}

const BLOCK = 64;

/** A cost for each start in a list, with the least of every block of them. */
export class TableCost implements CostByStart {
  private readonly starts: Int32Array;
  private readonly costs: Int32Array;
  private readonly blocks: Int32Array;

  /** Ascending starts and, of the same length, their costs. */
  constructor(starts: Int32Array, costs: Int32Array) {
    this.starts = starts;
    this.costs = costs;
    this.blocks = new Int32Array(Math.ceil(starts.length / BLOCK)).fill(NO_END);
    for (let k = 0; k < costs.length; k++) {
      const block = Math.floor(k / BLOCK);
      if (costs[k]! < this.blocks[block]!) this.blocks[block] = costs[k]!;
    }
  }

  least(from: number, to: number): number {
    const { blocks, costs } = this;
    const end = this.indexOf(to + 1);
    let least = NO_END;
    for (let k = this.indexOf(from); k < end; ) {
      const whole = k % BLOCK === 0 && k + BLOCK <= end;
      least = Math.min(least, whole ? blocks[k / BLOCK]! : costs[k]!);
      k += whole ? BLOCK : 1;
    }
    return least;
  }

  firstAtMost(minute: number, most: number): number {
    const { blocks, costs, starts } = this;
    for (let k = this.indexOf(minute); k < costs.length; ) {
      if (k % BLOCK === 0 && blocks[k / BLOCK]! > most) k += BLOCK;
      else if (costs[k]! <= most) return starts[k]!;
      else k++;
    }
    return NO_END;
  }

  lastAtMost(minute: number, most: number): number {
    const { blocks, costs, starts } = this;
    for (let k = this.indexOf(minute + 1) - 1; k >= 0; ) {
      if (k % BLOCK === BLOCK - 1 && blocks[(k - BLOCK + 1) / BLOCK]! > most) k -= BLOCK;
      else if (costs[k]! <= most) return starts[k]!;
      else k--;
    }
    return NO_START;
  }

  /** Index of the first start at or after a minute. */
  private indexOf(minute: number): number {
    let low = 0;
    let high = this.starts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.starts[middle]! >= minute) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}
