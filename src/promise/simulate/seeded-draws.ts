import { textHash } from '../../trade/model/text-hash.ts';

/** Two rounds of a 32-bit mixer: C. Wellons, "Prospecting for hash functions" (2018), lowbias32. A bijection. */
export function mix(value: number): number {
  let x = value | 0;
  x = Math.imul(x ^ (x >>> 16), 0x7feb352d);
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b);
  x ^= x >>> 16;
  x = Math.imul((x + 0x9e3779b9) ^ (x >>> 16), 0x7feb352d);
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b);
  return x ^ (x >>> 16);
}

/**
 * What all draws of one scenario have in common. A draw is a pure function of seed, scenario and stream, so that the
 * same operation meets the same luck in two plans that are compared (common random numbers: A. M. Law, "Simulation
 * Modeling and Analysis", chapter on variance reduction), whatever else the plans contain.
 */
export function scenarioSeed(seed: number, scenario: number): number {
  return mix(mix(seed) + Math.imul(scenario, 0x9e3779b9));
}

/** Uniform, more than 0 and less than 1. `stream` is a hash, see `mix`. */
export function uniform(ofScenario: number, stream: number): number {
  return ((mix(ofScenario ^ stream) >>> 0) + 0.5) / 0x1_0000_0000;
}

/** A stream for a text that names an operation across plans. */
export function streamOf(name: string): number {
  return mix(textHash(name));
}
