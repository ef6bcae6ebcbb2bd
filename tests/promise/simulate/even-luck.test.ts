import { describe, expect, it } from 'vitest';
import { DEAL, evenly, luckOfScenario } from '../../../src/promise/simulate/even-luck.ts';
import { mix, streamOf } from '../../../src/promise/simulate/seeded-draws.ts';
import { chiSquare, countsIn, limit } from './chi-square.ts';

const upTo = (count: number) => Array.from({ length: count }, (_, k) => k);
const drawn = (seed: number, scenarios: number, stream: number) =>
  upTo(scenarios).map((scenario) => evenly(luckOfScenario(seed, scenario), stream));
const cardOf = (luck: number) => Math.floor(luck * DEAL);

describe('luck that is spread evenly', () => {
  it('gives each scenario of a deal another sixteenth, whatever the stream', () => {
    for (const stream of [streamOf('wipe'), streamOf('coat'), mix(17)]) {
      const luck = drawn(3, 4 * DEAL, stream);
      for (const deal of upTo(4)) {
        const cards = luck.slice(deal * DEAL, (deal + 1) * DEAL).map(cardOf);
        expect(new Set(cards).size).toBe(DEAL);
      }
    }
  });

  it('is uniform from stream to stream and inside a sixteenth', () => {
    const cells = 320;
    const luck = luckOfScenario(11, 5);
    const values = upTo(64_000).map((k) => evenly(luck, mix(k)));
    expect(chiSquare(countsIn(cells, values))).toBeLessThan(limit(cells));
  });

  it('lets two scenarios of a deal have any two sixteenths alike', () => {
    for (const [one, other] of [
      [0, 1],
      [0, 8],
      [3, 12],
      [14, 15],
    ] as const) {
      const counts = new Array<number>(DEAL * DEAL).fill(0);
      for (const k of upTo(48_000)) {
        const first = cardOf(evenly(luckOfScenario(7, one), mix(k)));
        const second = cardOf(evenly(luckOfScenario(7, other), mix(k)));
        counts[first * DEAL + second]!++;
      }
      const differing = counts.filter((_, cell) => cell % (DEAL + 1) !== 0);
      expect(counts.filter((_, cell) => cell % (DEAL + 1) === 0).every((count) => count === 0)).toBe(true);
      expect(chiSquare(differing)).toBeLessThan(limit(differing.length));
    }
  });

  it('of two streams has nothing to do with each other', () => {
    const deals = 3_000;
    const [a, b] = [drawn(5, deals * DEAL, mix(1)), drawn(5, deals * DEAL, mix(2))];
    const correlation = (12 / a.length) * a.reduce((sum, x, k) => sum + (x - 0.5) * (b[k]! - 0.5), 0);
    // The standard error of a correlation of 48,000 pairs is 0.0046.
    expect(Math.abs(correlation)).toBeLessThan(0.015);
  });

  it('is the same for the same seed, scenario and stream, and never 0 or 1', () => {
    expect(drawn(1, 100, 3)).toEqual(drawn(1, 100, 3));
    expect(drawn(1, 100, 3)).not.toEqual(drawn(2, 100, 3));
    expect(drawn(1, 10_000, 0).every((luck) => luck > 0 && luck < 1)).toBe(true);
  });

  it('makes the mean of a sum as well known from 64 scenarios as from four times as many drawn at will', () => {
    // Main effects are all there is in a sum: M. Stein, "Large sample properties of simulations using Latin hypercube sampling",
    // Technometrics 29, 1987. With sixteenths little of the variance is left.
    const means = upTo(200).map((seed) => {
      const sums = upTo(64).map((scenario) =>
        upTo(12).reduce((sum, k) => sum - Math.log(evenly(luckOfScenario(seed, scenario), mix(k))), 0),
      );
      return sums.reduce((sum, each) => sum + each, 0) / 64;
    });
    const mean = means.reduce((sum, each) => sum + each, 0) / means.length;
    const variance = means.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (means.length - 1);
    // The sum of twelve exponentials has mean 12 and variance 12: the mean of 64 at will has 12 / 64.
    expect(Math.abs(mean - 12)).toBeLessThan(0.05);
    expect(variance).toBeLessThan(12 / 64 / 4);
  });
});
