import { describe, expect, test } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { assertValid, ProblemError, validate } from '../../../src/engine/problem/validate.ts';
import { twoCarDay } from '../check/two-car-day.ts';
import { at, blankProblem, endToStart, work } from '../random/blank-problem.ts';

type Mutable<T> = T extends object ? { -readonly [K in keyof T]: Mutable<T[K]> } : T;

/** The fields at fault when one thing in the two-car day is made wrong. */
function faultsOf(spoil: (problem: Mutable<Problem>) => void): string[] {
  const problem = JSON.parse(JSON.stringify(twoCarDay)) as Mutable<Problem>;
  spoil(problem);
  return validate(problem).map((fault) => fault.slice(0, fault.indexOf(':')));
}

describe('a valid problem', () => {
  test('has no faults', () => {
    expect(validate(twoCarDay)).toEqual([]);
    expect(() => assertValid(twoCarDay)).not.toThrow();
  });
});

describe('a fault names its field', () => {
  test.each([
    [
      'horizon',
      (p) => {
        p.horizon = 2880.5;
      },
    ],
    [
      'now',
      (p) => {
        p.now = p.horizon + 1;
      },
    ],
    [
      'tiers',
      (p) => {
        p.tiers = ['lead', 'lead'];
      },
    ],
    [
      'progresses[0].rate',
      (p) => {
        p.progresses[0]!.rate.pop();
      },
    ],
    [
      'progresses[0].at[1]',
      (p) => {
        p.progresses[0]!.at[1] = p.progresses[0]!.at[0]!;
      },
    ],
    [
      'resources[0].capacity',
      (p) => {
        p.resources[0]!.capacity = -1;
      },
    ],
    [
      'resources[0].open[1]',
      (p) => {
        p.resources[0]!.open![1] = { from: 700, to: 800 };
      },
    ],
    [
      'resources[0].overtime[0]',
      (p) => {
        p.resources[0]!.overtime![0] = { from: 9, to: 9 };
      },
    ],
    [
      'budgets[0].limit',
      (p) => {
        p.budgets[0]!.limit = Number.NaN;
      },
    ],
    [
      'places[0].turnaround',
      (p) => {
        p.places[0]!.turnaround = -5;
      },
    ],
    [
      'places[0].zone',
      (p) => {
        p.places[0]!.zone = 1;
      },
    ],
    [
      'places[2].blockedBy[0]',
      (p) => {
        p.places[2]!.blockedBy[0] = 2;
      },
    ],
    [
      'airExclusions[0].second',
      (p) => {
        p.airExclusions[0]!.second = 2;
      },
    ],
    [
      'airExclusions[0].settleAfterFirst',
      (p) => {
        p.airExclusions[0]!.settleAfterFirst = 0.5;
      },
    ],
    [
      'takenPlaces[0].place',
      (p) => {
        p.takenPlaces[0]!.place = 4;
      },
    ],
    [
      'takenResources[0]',
      (p) => {
        p.takenResources[0]!.to = 0;
      },
    ],
    [
      'jobs[0].stays[2]',
      (p) => {
        p.jobs[0]!.stays.push(9);
      },
    ],
    [
      'jobs[0].handover',
      (p) => {
        p.jobs[0]!.handover = 8;
      },
    ],
    [
      'jobs[0].arrival',
      (p) => {
        p.jobs[0]!.arrival = 9;
      },
    ],
    [
      'jobs[0].pickupOpen[0].from',
      (p) => {
        p.jobs[0]!.pickupOpen![0] = { from: -1, to: 5 };
      },
    ],
    [
      'jobs[1].due',
      (p) => {
        delete p.jobs[1]!.handover;
        delete p.jobs[1]!.ready;
      },
    ],
    [
      'stays[0].move',
      (p) => {
        p.stays[0]!.move = 2;
        p.stays[1] = { ...p.stays[1]!, move: undefined } as never;
      },
    ],
    [
      'stays[1].move',
      (p) => {
        p.operations[2]!.presence = 'always';
      },
    ],
    [
      'operations[2].stay',
      (p) => {
        p.operations[2]!.stay = 1;
      },
    ],
    [
      'operations[2].modes',
      (p) => {
        p.operations[2]!.modes[0]!.places = [1];
      },
    ],
    [
      'stays[1].places',
      (p) => {
        p.stays[1]!.places = [];
      },
    ],
    [
      'operations[0].job',
      (p) => {
        p.operations[0]!.job = 2;
        p.operations[0]!.stay = undefined as never;
        p.jobs[0]!.arrival = undefined as never;
      },
    ],
    [
      'operations[1].stay',
      (p) => {
        p.operations[1]!.stay = 2;
      },
    ],
    [
      'operations[1].modes',
      (p) => {
        p.operations[1]!.modes = [];
      },
    ],
    [
      'operations[1].modes[0].work',
      (p) => {
        p.operations[1]!.modes[0]!.work = -60;
      },
    ],
    [
      'operations[1].modes[0].progress',
      (p) => {
        p.operations[1]!.modes[0]!.progress = 1;
      },
    ],
    [
      'operations[1].modes[0].uses[0].resource',
      (p) => {
        p.operations[1]!.modes[0]!.uses[0]!.resource = 2;
      },
    ],
    [
      'operations[3].modes[1].budget',
      (p) => {
        p.operations[3]!.modes[1]!.budget = 1;
      },
    ],
    [
      'operations[5].modes[0].allowed[0]',
      (p) => {
        p.operations[5]!.modes[0]!.allowed = [{ from: 10, to: 5 }];
      },
    ],
    [
      'operations[3].pausable',
      (p) => {
        p.operations[3]!.pausable = false;
      },
    ],
    [
      'operations[0].fixed.mode',
      (p) => {
        p.operations[0]!.fixed!.by = 'fact';
      },
    ],
    [
      'operations[0].fixed.end',
      (p) => {
        p.operations[0]!.fixed!.end = 500;
      },
    ],
    [
      'lags[0].from.operation',
      (p) => {
        p.lags[0]!.from.operation = 14;
      },
    ],
    [
      'lags[3].max',
      (p) => {
        p.lags[3]!.max = 4;
      },
    ],
    [
      'lags[3].remedy[0]',
      (p) => {
        p.lags[3]!.remedy = [1];
      },
    ],
    [
      'lags[0].remedy',
      (p) => {
        p.lags[0]!.remedy = [8];
      },
    ],
    [
      'branches[0].alternatives',
      (p) => {
        p.branches = [{ name: 'b', alternatives: [[8], []] }];
      },
    ],
    [
      'sameCrew[0].second',
      (p) => {
        p.sameCrew[0]!.second = p.sameCrew[0]!.first;
      },
    ],
    [
      'airSpans[0].label',
      (p) => {
        p.airSpans[0]!.label = 2;
      },
    ],
    [
      'stills[0].to.operation',
      (p) => {
        p.stills[0]!.to.operation = -1;
      },
    ],
    [
      'previous.operations',
      (p) => {
        p.previous = { operations: [] };
      },
    ],
  ] as [string, (problem: Mutable<Problem>) => void][])('%s', (field, spoil) => {
    expect(faultsOf(spoil)).toEqual([field]);
  });

  test('and throws with all of them', () => {
    const problem = { ...twoCarDay, horizon: -1, tiers: ['lead', 'lead'] as const };
    expect(() => assertValid(problem)).toThrow(ProblemError);
    expect(() => assertValid(problem)).toThrow(/horizon.*now.*tiers/);
  });
});

describe('lags', () => {
  const three = (lags: Problem['lags']) =>
    validate(
      blankProblem({
        jobs: [{ name: 'car', stays: [], release: 0 }],
        operations: [
          work('wipe', 0, 20),
          work('coat', 0, 60),
          work('cure', 0, 90),
          work('again', 0, 5, { presence: 'optional' }),
        ],
        lags,
      }),
    );

  test('that contradict one another are named by the operations of the cycle', () => {
    // From the wipe's end to the cure's start lie at least the 60 minutes of the coat.
    expect(
      three([endToStart(0, 1), endToStart(1, 2), { from: at(0, 'end'), to: at(2, 'start'), min: 0, max: 59 }]),
    ).toEqual([
      'lags: contradict one another around operations[0] "wipe", operations[1] "coat", operations[2] "cure".',
    ]);
    expect(
      three([endToStart(0, 1), endToStart(1, 2), { from: at(0, 'end'), to: at(2, 'start'), min: 0, max: 60 }]),
    ).toEqual([]);
  });

  test('bound the length of steady work from above', () => {
    expect(three([{ from: at(1, 'start'), to: at(1, 'end'), min: 61 }])).toHaveLength(1);
    expect(three([{ from: at(1, 'start'), to: at(1, 'end'), min: 60, max: 60 }])).toEqual([]);
  });

  test('do not contradict when a remedy makes good the lapse, or when the work is optional', () => {
    expect(three([endToStart(0, 2, 60), { ...endToStart(0, 2, 0, 30), remedy: [3] }])).toEqual([]);
    expect(three([endToStart(0, 3, 60), endToStart(0, 3, 0, 30)])).toEqual([]);
  });
});
