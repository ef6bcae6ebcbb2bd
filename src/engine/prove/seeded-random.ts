/** Uniform numbers from a seed: xorshift32 (Marsaglia 2003). */
export class SeededRandom {
  private state: number;

  constructor(seed: number) {
    this.state = Math.imul(seed + 1, 0x9e3779b1) | 0 || 1;
    for (let k = 0; k < 8; k++) this.next();
  }

  private next(): number {
    let s = this.state;
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    this.state = s;
    return s >>> 0;
  }

  /** A whole number in 0..n-1. */
  below(n: number): number {
    return this.next() % n;
  }
}
