const STOP = 0;
const NEWS = 1;
const FIRST_BOUND = 2;

/**
 * Memory that the proofs of a portfolio share: whether to stop, how many incumbents have been sent, and the highest lower
 * bound of each tier.
 */
export class Blackboard {
  readonly memory: Int32Array;

  constructor(memory: Int32Array) {
    this.memory = memory;
  }

  static forTiers(tiers: number): Blackboard {
    const memory = new Int32Array(new SharedArrayBuffer(4 * (FIRST_BOUND + tiers)));
    return new Blackboard(memory.fill(0));
  }

  get stopped(): boolean {
    return Atomics.load(this.memory, STOP) === 1;
  }

  stop(): void {
    Atomics.store(this.memory, STOP, 1);
  }

  /** Counts the incumbents sent so far. */
  get news(): number {
    return Atomics.load(this.memory, NEWS);
  }

  addNews(): void {
    Atomics.add(this.memory, NEWS, 1);
  }

  bound(tier: number): number {
    return Atomics.load(this.memory, FIRST_BOUND + tier);
  }

  /** A bound of 0 holds always: no tier is ever less. */
  raiseBound(tier: number, bound: number): void {
    const at = FIRST_BOUND + tier;
    for (let now = Atomics.load(this.memory, at); bound > now; ) {
      const before = Atomics.compareExchange(this.memory, at, now, bound);
      if (before === now) return;
      now = before;
    }
  }

  bounds(): number[] {
    return Array.from({ length: this.memory.length - FIRST_BOUND }, (_, tier) => this.bound(tier));
  }
}
