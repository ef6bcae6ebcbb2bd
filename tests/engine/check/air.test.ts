import { describe, expect, test } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { at, blankProblem, work } from '../random/blank-problem.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { brokenRules } from './changed.ts';

interface Air {
  readonly label: number;
  readonly place: number;
  readonly from: number;
  readonly to: number;
  readonly fact?: boolean;
}

const DUST = 0;
const OPEN = 1;

/** One car a span. Places 0 and 1 share the hall's air, 2 is another room, 3 the open yard. Dust settles in 30, coating in 5 minutes. */
function broken(spans: readonly Air[], given: Partial<Problem> = {}): string[] {
  const problem = blankProblem({
    places: [0, 0, 1, undefined].map((zone, p) => ({
      name: `bay ${p}`,
      turnaround: 0,
      blockedBy: [],
      ...(zone === undefined ? {} : { zone }),
    })),
    zones: ['hall', 'room'],
    airLabels: ['dust', 'open coating'],
    airExclusions: [0, 1].map((zone) => ({
      zone,
      first: DUST,
      second: OPEN,
      settleAfterFirst: 30,
      settleAfterSecond: 5,
    })),
    jobs: spans.map((_, j) => ({ name: `car ${j}`, stays: [j], release: 0 })),
    stays: spans.map((_, job) => ({ job, places: [0, 1, 2, 3], optional: false })),
    operations: spans.map(({ from, to, fact }, job) =>
      work('work', job, to - from, fact ? { fixed: { start: from, mode: 0, by: 'fact' } } : {}),
    ),
    airSpans: spans.map(({ label }, k) => ({ label, stay: k, from: at(k, 'start'), to: at(k, 'end') })),
    ...given,
  });
  return brokenRules(problem, {
    operations: spans.map(({ from, to }) => ({ start: from, end: to, mode: 0 })),
    // Cars stand one after another so that only the air is at issue.
    stays: spans.map(({ place }, s) => ({ place, from: 1000 + s, to: 1000 + s })),
  });
}

describe('air that may not meet', () => {
  test.each([
    ['in two bays of one hall', 1, 109, ['5 air']],
    ['in another room', 2, 109, []],
    ['in the open yard', 3, 109, []],
    ['after the dust has settled', 1, 130, []],
    ['a minute before it has', 1, 129, ['5 air']],
  ])('%s, coating from %s', (_, place, from, rules) => {
    expect(
      broken([
        { label: DUST, place: 0, from: 50, to: 100 },
        { label: OPEN, place, from, to: 200 },
      ]),
    ).toEqual(rules);
  });

  test('settles as long as its own kind needs', () => {
    const coating = { label: OPEN, place: 0, from: 50, to: 100 };
    expect(broken([coating, { label: DUST, place: 1, from: 105, to: 110 }])).toEqual([]);
    expect(broken([coating, { label: DUST, place: 1, from: 104, to: 110 }])).toEqual(['5 air']);
  });

  test('is not judged when both began as facts, and is when one is still to begin', () => {
    const dust = { label: DUST, place: 0, from: 50, to: 100, fact: true };
    const coating = { label: OPEN, place: 1, from: 60, to: 300 };
    expect(broken([dust, { ...coating, fact: true }], { now: 70 })).toEqual([]);
    expect(broken([dust, { ...coating, from: 129 }], { now: 70 })).toEqual(['5 air']);
    expect(
      broken([dust, { ...coating, fact: true }, { ...dust, from: 200, to: 210, fact: false }], { now: 70 }),
    ).toEqual(['5 air']);
  });

  test('keeps two cars of one kind apart when the kind excludes itself', () => {
    const airExclusions = [{ zone: 0, first: DUST, second: DUST, settleAfterFirst: 0, settleAfterSecond: 10 }];
    const dust = { label: DUST, place: 0, from: 50, to: 100 };
    expect(broken([dust, { ...dust, place: 1, from: 109, to: 120 }], { airExclusions })).toEqual(['5 air']);
    expect(broken([dust, { ...dust, place: 1, from: 110, to: 120 }], { airExclusions })).toEqual([]);
  });
});

describe('the sweep over a zone', () => {
  test('finds a clash exactly when comparing every two spans finds one', () => {
    const random = seededRandom(7);
    let clashes = 0;
    for (let round = 0; round < 500; round++) {
      const spans = Array.from({ length: random.whole(2, 5) }, (): Air => {
        const from = random.whole(0, 400);
        return {
          label: random.whole(0, 1),
          place: random.whole(0, 2),
          from,
          to: from + random.whole(1, 60),
          fact: random.chance(0.3),
        };
      });
      const room = (place: number) => (place === 2 ? 1 : 0);
      const clash = spans.some((dust) =>
        spans.some(
          (coating) =>
            dust.label === DUST &&
            coating.label === OPEN &&
            room(dust.place) === room(coating.place) &&
            !(dust.fact && coating.fact) &&
            coating.from < dust.to + 30 &&
            dust.from < coating.to + 5,
        ),
      );
      if (clash) clashes++;
      expect(broken(spans)).toEqual(clash ? ['5 air'] : []);
    }
    expect(clashes).toBeGreaterThan(50);
    expect(clashes).toBeLessThan(450);
  });
});
