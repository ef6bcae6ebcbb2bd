/** A stream of pseudo-random numbers that is a pure function of its seed. */
export interface SeededRandom {
  /** A whole number from `least` to `most`, both included. */
  whole(least: number, most: number): number;
  chance(probability: number): boolean;
  pick<T>(items: readonly T[]): T;
  /** Some of the items, at least `least` of them, in their order. */
  some<T>(items: readonly T[], least: number): T[];
}

/** SplitMix32, a 32-bit variant of the generator in Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators". */
export function seededRandom(seed: number): SeededRandom {
  let state = seed | 0;
  const next = () => {
    state = (state + 0x9e3779b9) | 0;
    let z = state ^ (state >>> 16);
    z = Math.imul(z, 0x21f0aaad);
    z ^= z >>> 15;
    z = Math.imul(z, 0x735a2d97);
    return ((z ^ (z >>> 15)) >>> 0) / 2 ** 32;
  };
  const whole = (least: number, most: number) => least + Math.floor(next() * (most - least + 1));
  return {
    whole,
    chance: (probability) => next() < probability,
    pick: (items) => items[whole(0, items.length - 1)]!,
    some: (items, least) => {
      const count = whole(least, items.length);
      const order = items.map((_, k) => k);
      for (let k = order.length - 1; k > 0; k--) {
        const other = whole(0, k);
        [order[k], order[other]] = [order[other]!, order[k]!];
      }
      const chosen = new Set(order.slice(0, count));
      return items.filter((_, k) => chosen.has(k));
    },
  };
}
