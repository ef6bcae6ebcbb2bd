import { describe, expect, test } from 'vitest';
import { explain, type TrySolve } from '../../../src/engine/explain/explain.ts';
import { partsOf } from '../../../src/engine/explain/parts.ts';
import { without } from '../../../src/engine/explain/without.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { enumerate } from '../random/enumerate.ts';
import { tinyProblem } from '../random/tiny-problem.ts';

/** Tries every schedule that ends within a few minutes more than these problems have. */
const byEnumeration: TrySolve = (problem) =>
  enumerate({ ...problem, horizon: Math.min(problem.horizon, 32), tiers: [] }) === null ? 'infeasible' : 'feasible';

/** The same, for three operations of several modes, within 18 minutes. */
const byShortEnumeration: TrySolve = (problem) => byEnumeration({ ...problem, horizon: Math.min(problem.horizon, 18) });

const jobs = ['grey estate', 'red coupe'].map((name) => ({ name, stays: [], release: 0 }));
const ada = { name: 'Ada', capacity: 100, kind: 'person' as const };
const hands = [{ resource: 0, amount: 100 }];

describe('a conflict', () => {
  test('is three lags when a window is shorter than what must lie in it, and nothing else', () => {
    const problem = blankProblem({
      horizon: 12,
      jobs,
      resources: [ada],
      operations: [1, 5, 1, 2].map((minutes, o) => work(['wipe', 'mask', 'coat', 'photograph'][o]!, 0, minutes)),
      lags: [endToStart(0, 1), endToStart(1, 2), endToStart(2, 3), endToStart(0, 2, 0, 4)],
    });
    const { conflict } = explain(problem, byEnumeration);
    expect(conflict.minimal).toBe(true);
    expect(conflict.parts.map(({ kind, index }) => `${kind} ${index}`)).toEqual(['lag 0', 'lag 1', 'lag 3']);
    expect(conflict.parts[2]!.text).toBe(
      'From the end of "wipe" of "grey estate" to the start of "coat" of "grey estate" lie 0 to 4 minutes.',
    );
  });

  test('is one person and two deadlines when two cars want her at once', () => {
    const problem = blankProblem({
      horizon: 12,
      jobs,
      resources: [ada, { ...ada, name: 'Ben' }],
      operations: [0, 1].map((job) => work('wash', job, 5, { deadline: 6, modes: [{ work: 5, uses: hands }] })),
    });
    const { conflict, nearest } = explain(problem, byEnumeration);
    expect(conflict.minimal).toBe(true);
    expect(conflict.parts.map(({ kind, index }) => `${kind} ${index}`)).toEqual([
      'resource 0',
      'deadline 0',
      'deadline 1',
    ]);
    expect(nearest.map(({ text }) => text)).toEqual([
      'Hand "grey estate" back 15 minutes later.',
      'Hand "red coupe" back 15 minutes later.',
    ]);
    for (const { relaxed } of nearest) expect(byEnumeration(relaxed)).toBe('feasible');
  });

  test('of tiny problems without a schedule has none, and has one as soon as any part is left out', () => {
    let conflicts = 0;
    for (let seed = 0; seed < 1200; seed++) {
      const problem = tinyProblem(seed);
      if (validate(problem).length > 0 || problem.operations.length > 3 || byShortEnumeration(problem) === 'feasible')
        continue;
      const { conflict } = explain(problem, byShortEnumeration);
      expect(conflict.minimal).toBe(true);
      conflicts++;
      const kept = new Set(conflict.parts.map(({ kind, index }) => `${kind} ${index}`));
      const others = partsOf(problem).filter(({ kind, index }) => !kept.has(`${kind} ${index}`));
      expect(byShortEnumeration(without(problem, others))).toBe('infeasible');
      for (const part of conflict.parts)
        expect(byShortEnumeration(without(problem, [...others, part]))).toBe('feasible');
      if (conflicts === 6) break;
    }
    expect(conflicts).toBe(6);
  });

  test('is labelled not minimal when nothing was proved', () => {
    const problem = blankProblem({ horizon: 3, jobs, operations: [work('wash', 0, 5, { deadline: 4 })] });
    const cannotProve: TrySolve = (relaxed) => (byEnumeration(relaxed) === 'feasible' ? 'feasible' : 'unknown');
    expect(explain(problem, cannotProve).conflict.minimal).toBe(false);
    expect(explain(problem, cannotProve).conflict.parts.map(({ kind }) => kind)).toEqual(['deadline']);
  });

  test('tells instants as the caller wants them told', () => {
    const problem = blankProblem({ horizon: 12, jobs, operations: [work('wash', 0, 5, { deadline: 4 })] });
    const { conflict } = explain(problem, byEnumeration, { attempts: 50, tellMinute: (minute) => `8:0${minute}` });
    expect(conflict.parts.map(({ text }) => text)).toEqual(['"wash" of "grey estate" ends by 8:04.']);
  });

  test('keeps what it had no attempts left to test, and says that it is not minimal', () => {
    const problem = blankProblem({
      horizon: 12,
      jobs,
      operations: [work('wash', 0, 5, { deadline: 4 }), work('wax', 0, 1)],
    });
    const { conflict } = explain(problem, byEnumeration, { attempts: 1 });
    expect(conflict.minimal).toBe(false);
    expect(conflict.parts.map(({ kind }) => kind)).toEqual(['horizon', 'deadline']);
  });
});

describe('the nearest thing that would fit', () => {
  test('is the shortest overtime that gives a plan, marked as overtime', () => {
    const problem = blankProblem({
      horizon: 31,
      jobs,
      progresses: [{ at: [0, 10], rate: [1, 0] }],
      resources: [{ ...ada, open: [{ from: 0, to: 10 }] }],
      operations: [0, 1].map((job) => work('wash', job, 8, { modes: [{ work: 8, progress: 0, uses: hands }] })),
    });
    const { nearest } = explain(problem, byEnumeration);
    expect(nearest.map(({ text }) => text)).toEqual(['Let "Ada" work up to 30 minutes longer each day.']);
    const [ada30] = nearest[0]!.relaxed.resources;
    expect(ada30!.open).toEqual([{ from: 0, to: 40 }]);
    expect(ada30!.overtime).toEqual([{ from: 10, to: 40 }]);
    expect(validate(nearest[0]!.relaxed)).toEqual([]);
  });

  test('takes a car in earlier, but not into the past', () => {
    const late = (now: number): Problem =>
      blankProblem({
        horizon: 32,
        now,
        jobs: [{ name: 'grey estate', stays: [], release: 20 }],
        operations: [work('wash', 0, 12, { deadline: 30 })],
      });
    const texts = (now: number) => explain(late(now), byEnumeration).nearest.map(({ text }) => text);
    expect(texts(0)).toEqual([
      'Hand "grey estate" back 15 minutes later.',
      'Take "grey estate" in 15 minutes earlier.',
    ]);
    expect(texts(6)).toEqual(['Hand "grey estate" back 15 minutes later.']);
  });

  test('gives up a frozen start', () => {
    const frozen = (start: number) => ({ modes: [{ work: 5, uses: hands }], fixed: { start, by: 'frozen' as const } });
    const problem = blankProblem({
      horizon: 20,
      jobs,
      resources: [ada],
      operations: [work('wash', 0, 5, frozen(2)), work('wash', 1, 5, frozen(4))],
    });
    const { conflict, nearest } = explain(problem, byEnumeration);
    expect(conflict.parts.map(({ kind, index }) => `${kind} ${index}`)).toEqual(['resource 0', 'fixed 0', 'fixed 1']);
    expect(nearest.map(({ text }) => text)).toEqual([
      'Let "wash" of "grey estate" start at another time than it is frozen at.',
      'Let "wash" of "red coupe" start at another time than it is frozen at.',
    ]);
  });

  test('offers another bay for the stay that found none', () => {
    const place = (name: string) => ({ name, turnaround: 0, blockedBy: [] });
    const problem = blankProblem({
      places: [place('wet bay'), place('clean bay')],
      jobs: [{ name: 'grey estate', stays: [0], release: 0, pickupOpen: [{ from: 0, to: 100 }] }],
      stays: [{ job: 0, places: [0], optional: false }],
      operations: [work('polish', 0, 5, { stay: 0, modes: [{ work: 5, uses: [], places: [0] }] })],
      takenPlaces: [{ place: 0, from: 0, to: 10_000 }],
    });
    // There is a plan when the car may stand in the clean bay, or when the wet bay is not taken.
    const byPlace: TrySolve = ({ stays, operations, takenPlaces }) => {
      const fits = stays[0]!.places.some((p) => p !== 0 && operations[0]!.modes[0]!.places!.includes(p));
      return fits || takenPlaces.length === 0 ? 'feasible' : 'infeasible';
    };
    const { conflict, nearest } = explain(problem, byPlace);
    expect(conflict).toEqual({
      minimal: true,
      parts: [{ kind: 'place', index: 0, text: '"wet bay" holds one car at a time.' }],
    });
    expect(nearest.map(({ text }) => text)).toEqual([
      'Let "polish" of "grey estate" be done in "clean bay", if that can be.',
    ]);
    expect(validate(nearest[0]!.relaxed)).toEqual([]);
  });
});

describe('a problem without its places', () => {
  test('gives every job a place of its own, in the same air', () => {
    const problem = blankProblem({
      zones: ['hall'],
      places: [{ name: 'bay', turnaround: 15, blockedBy: [], zone: 0, open: [] }],
      jobs: jobs.map((job, j) => ({ ...job, stays: [j] })),
      stays: [0, 1].map((job) => ({ job, places: [0], optional: false })),
    });
    const relaxed = without(
      problem,
      partsOf(problem).filter(({ kind }) => kind === 'place'),
    );
    expect(relaxed.stays.map(({ places }) => places)).toEqual([[1], [2]]);
    expect(relaxed.places[2]).toEqual({ name: 'bay', turnaround: 0, blockedBy: [], zone: 0 });
    expect(validate(relaxed)).toEqual([]);
  });
});
