import { describe, expect, it } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { at } from '../random/blank-problem.ts';
import { BAY, lastEnd, oneWorkEach } from './proved-visits.ts';

/** Two cars of 5 and 7 minutes in two bays, one making dust and one coated; dust takes 3 minutes to settle. */
function dustAndCoating(zones: readonly [number | undefined, number | undefined]): Problem {
  const places = zones.map((zone) => (zone === undefined ? BAY : { ...BAY, zone }));
  const problem = oneWorkEach([5, 7], places);
  return {
    ...problem,
    stays: problem.stays.map((stay, s) => ({ ...stay, places: [s] })),
    zones: ['hall', 'room'],
    airLabels: ['dust', 'coating'],
    airExclusions: [0, 1].map((zone) => ({ zone, first: 0, second: 1, settleAfterFirst: 3, settleAfterSecond: 0 })),
    airSpans: [0, 1].map((k) => ({ label: k, stay: k, from: at(k, 'start'), to: at(k, 'end') })),
  };
}

describe('air', () => {
  it('in one zone: coating comes first, since dust has to settle after', () => {
    expect(lastEnd(dustAndCoating([0, 0]))).toBe(12);
  });

  it('in two zones, or in the open, lets both be done at once', () => {
    expect(lastEnd(dustAndCoating([0, 1]))).toBe(7);
    expect(lastEnd(dustAndCoating([undefined, 0]))).toBe(7);
  });

  it('of one kind that excludes itself keeps two cars apart, with the longer of its settling times', () => {
    const problem = dustAndCoating([0, 0]);
    const same = { zone: 0, first: 0, second: 0, settleAfterFirst: 1, settleAfterSecond: 4 };
    const airSpans = problem.airSpans.map((span) => ({ ...span, label: 0 }));
    expect(lastEnd({ ...problem, airSpans, airExclusions: [same] })).toBe(16);
  });
});
