/**
 * A small fast counter-based generator, sfc32 of Chris Doty-Humphrey's PractRand: the same seed gives the same stream on every
 * machine. Not for secrets.
 */
export class Random {
  #a: number;
  #b: number;
  #c: number;
  #counter = 1;

  constructor(seed: number) {
    this.#a = seed | 0;
    this.#b = Math.trunc(seed / 2 ** 32) | 0;
    this.#c = 0x9e3779b9 | 0;
    for (let k = 0; k < 12; k++) this.bits();
  }

  bits(): number {
    const result = (this.#a + this.#b + this.#counter++) | 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) | 0;
    this.#c = (((this.#c << 21) | (this.#c >>> 11)) + result) | 0;
    return result >>> 0;
  }

  /** A number in [0, 1). */
  unit(): number {
    return this.bits() / 2 ** 32;
  }

  /** A whole number in [0, below). */
  below(below: number): number {
    return Math.floor(this.unit() * below);
  }

  shuffle(items: number[]): void {
    for (let k = items.length - 1; k > 0; k--) {
      const other = this.below(k + 1);
      const item = items[k]!;
      items[k] = items[other]!;
      items[other] = item;
    }
  }
}
