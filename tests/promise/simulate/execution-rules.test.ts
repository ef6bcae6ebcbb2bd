import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Operation, Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { realise } from '../../../src/promise/simulate/realise.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import type { SimulationInput, WorkFactor } from '../../../src/promise/simulate/simulation-input.ts';
import { certain, DAY, follows, hours, meanAndVariance, operation, planned, problemOf } from './small-problem.ts';

/** Work that turns out to take so many times what was planned, for certain. */
const times = (factor: number): WorkFactor => ({ logMean: Math.log(factor), logDeviation: 0 });

const shift = { progresses: [hours(10)], resources: [{ name: 'Ada', capacity: 100, kind: 'person' as const }] };
const byAda = (work: number) => ({ work, progress: 0, uses: [{ resource: 0, amount: 100 }] });

function run(
  problem: Problem,
  schedule: Schedule,
  factors: readonly WorkFactor[],
  more: Partial<SimulationInput> = {},
) {
  return realise({ problem, schedule, factors, scenarios: 1, seed: 1, ...more }, 0).schedule.operations;
}

describe('an overrun', () => {
  const finish = 17 * 60;

  it('of pausable work pauses into tomorrow', () => {
    const problem = problemOf({ ...shift, operations: [operation('compound', byAda(120), { pausable: true })] });
    const [done] = run(problem, planned([[900, finish]]), [times(2)]);
    // 13:00 is as early as Ada is free of nothing else: it starts at once, 8:00, and ends after 240 minutes.
    expect(done).toEqual({ start: 480, end: 720, mode: 0 });
    const [kept] = run(problem, planned([[900, finish]]), [times(2)], { rules: { starts: 'notBeforePlanned' } });
    expect(kept).toEqual({ start: 900, end: DAY + 480 + 120, mode: 0 });
  });

  it('of unpausable work is finished by staying on, within what the shop allows', () => {
    const problem = problemOf({ ...shift, operations: [operation('coat', byAda(100))] });
    const late = { rules: { starts: 'notBeforePlanned' as const } };
    expect(run(problem, planned([[920, finish]]), [times(1.5)], late)[0]).toEqual({
      start: 920,
      end: finish + 50,
      mode: 0,
    });
    expect(run(problem, planned([[920, finish]]), [times(1.9)], late)[0]!.end).toBe(DAY + 480 + 90);
    const result = simulate({
      problem: { ...problem, resources: [{ ...problem.resources[0]!, open: [{ from: 480, to: finish }] }] },
      schedule: planned([[920, finish]]),
      factors: [times(1.5)],
      scenarios: 4,
      seed: 1,
      ...late,
    });
    expect(result.stayedOn.meanMinutes).toBe(50);
  });

  it('delays who needs the same person next, in the order of the plan', () => {
    const operations = [operation('wash', byAda(60)), operation('intake', byAda(30), { job: 1 })];
    const schedule = planned([
      [480, 540],
      [540, 570],
    ]);
    const done = run(problemOf({ ...shift, operations }), schedule, [times(1.5), certain]);
    expect(done.map((each) => each?.start)).toEqual([480, 570]);
  });

  it('of the daily polishing leaves the next polishing only what is left of the day', () => {
    const polish = (work: number, job: number): Operation =>
      operation('polish', { ...byAda(work), budget: 0 }, { pausable: true, job });
    const problem = problemOf({
      ...shift,
      budgets: [
        { name: 'polishing', limit: 330, windows: [0, 1, 2].map((d) => ({ from: d * DAY, to: (d + 1) * DAY })) },
      ],
      operations: [polish(200, 0), polish(120, 1)],
    });
    const schedule = planned([
      [480, 680],
      [680, 860],
    ]);
    const done = run(problem, schedule, [times(1.25), certain]);
    // 250 of 330 minutes are drawn by 13:10; of the day's last 80 minutes of hours at most 80 may be polished.
    expect(done[0]).toMatchObject({ start: 480, end: 790 });
    expect(done[1]!.start).toBe(940);
    expect(done[1]!.end).toBe(DAY + 480 + 40);
  });
});

/** Wipe and coat with a window of 30 minutes, a second wipe as its remedy, and a second layer with a recoat window. */
function coatingProblem(coaterBusyMinutes: number): { problem: Problem; schedule: Schedule } {
  const ben = { work: coaterBusyMinutes, uses: [{ resource: 1, amount: 100 }] };
  const byBen = (work: number) => ({ work, uses: [{ resource: 1, amount: 100 }] });
  const operations = [
    operation('wipe', byAda(40)),
    operation('wipe again', byBen(20), { presence: 'optional' }),
    operation('coat', byBen(90)),
    operation('other car', ben, { job: 1, release: 480 }),
    operation('second layer', byBen(60)),
    operation('abrade', byBen(45), { presence: 'optional' }),
  ];
  const problem = problemOf({
    ...shift,
    resources: [...shift.resources, { name: 'Ben', capacity: 100, kind: 'person' }],
    operations,
    lags: [
      follows(0, 2, { max: 30, remedy: [1] }),
      follows(0, 1),
      follows(1, 2, { max: 30 }),
      follows(2, 4, { min: 60, max: 120, remedy: [5] }),
      follows(2, 5),
      follows(5, 4),
    ],
  });
  const coat = 480 + 40;
  const schedule = planned([
    [480, coat],
    null,
    [coat, coat + 90],
    [480, 480 + coaterBusyMinutes],
    [coat + 150, coat + 210],
    null,
  ]);
  return { problem, schedule };
}

describe('a window', () => {
  it('that lapses has its remedy done: a wipe that has gone stale is done again before coating', () => {
    const { problem, schedule } = coatingProblem(40);
    const onTime = run(
      problem,
      schedule,
      problem.operations.map(() => certain),
    );
    expect(onTime[1]).toBeNull();
    // The coater is late by 80 minutes, and nobody could know when the wipe began.
    const input = {
      problem,
      schedule,
      factors: [certain, certain, certain, times(3), certain, certain],
      scenarios: 1,
      seed: 1,
    };
    const late = realise(input, 0);
    expect(late.schedule.operations[1]).toMatchObject({ start: 600, end: 620 });
    expect(late.schedule.operations[2]).toMatchObject({ start: 620 });
    expect(check(late.problem, late.schedule)).toEqual([]);
  });

  it('of the next layer that expires means abrade and recoat', () => {
    const { problem, schedule } = coatingProblem(40);
    const between: Operation = operation('third car', { work: 40, uses: [{ resource: 1, amount: 100 }] }, { job: 2 });
    const busy = {
      ...problem,
      operations: [...problem.operations, between],
      jobs: [...problem.jobs, problem.jobs[0]!],
    };
    const withThird = { operations: [...schedule.operations, { start: 620, end: 660, mode: 0 }], stays: [] };
    const factors = [certain, certain, certain, certain, certain, certain, times(4)];
    const late = realise({ problem: busy, schedule: withThird, factors, scenarios: 1, seed: 1 }, 0);
    // The other work holds the coater until 610 + 160; the window closed at 610 + 120.
    expect(late.schedule.operations[5]).toMatchObject({ start: 770, end: 815 });
    expect(late.schedule.operations[4]).toMatchObject({ start: 815 });
    expect(check(late.problem, late.schedule)).toEqual([]);
  });

  it('is not opened when what it leads to is not expected to follow in time', () => {
    const operations = [operation('wipe', byAda(40)), operation('coat', byAda(90)), operation('mask', byAda(60))];
    const problem = problemOf({ ...shift, operations, lags: [follows(2, 0), follows(0, 1, { max: 30 })] });
    const schedule = planned([
      [840, 880],
      [880, 970],
      [780, 840],
    ]);
    // Masking ends at 16:00 instead of 14:00: wiping would end at 16:40 and coating could not.
    const done = run(problem, schedule, [certain, certain, times(3)], { rules: { starts: 'notBeforePlanned' } });
    expect(done[0]).toMatchObject({ start: DAY + 480 });
    expect(done[1]).toMatchObject({ start: DAY + 520 });
  });
});

describe('work that is late', () => {
  const late = { rules: { starts: 'notBeforePlanned' as const } };

  it('waits until a person taken by something outside the plan is back', () => {
    const problem = problemOf({
      ...shift,
      operations: [operation('wash', byAda(60)), operation('clay', byAda(40))],
      lags: [follows(0, 1)],
      takenResources: [{ resource: 0, amount: 100, from: 600, to: 660 }],
    });
    const schedule = planned([
      [480, 540],
      [540, 580],
    ]);
    const input = { problem, schedule, factors: [times(1.5), certain], scenarios: 1, seed: 1 };
    // Claying from 9:30 would run into the meeting at 10:00.
    const done = realise(input, 0);
    expect(done.schedule.operations[1]).toMatchObject({ start: 660, end: 700 });
    expect(check(done.problem, done.schedule)).toEqual([]);
  });

  it('waits until a closed bay opens again', () => {
    const problem = problemOf({
      operations: [operation('prepare', { work: 60 }), operation('wash', { work: 60 }, { stay: 0 })],
      lags: [follows(0, 1)],
      places: [
        {
          name: 'bay',
          turnaround: 0,
          blockedBy: [],
          open: [
            { from: 0, to: 700 },
            { from: 800, to: 5000 },
          ],
        },
      ],
      stays: [{ job: 0, places: [0], optional: false }],
      jobs: [{ name: 'job', stays: [0], release: 0 }],
    });
    const schedule = {
      ...planned([
        [540, 600],
        [600, 660],
      ]),
      stays: [{ place: 0, from: 540, to: 660 }],
    };
    const done = run(problem, schedule, [times(2), certain], late);
    expect(done[1]).toMatchObject({ start: 800, end: 860 });
  });
});

describe('a pickup', () => {
  const pickupOpen = [0, 1, 2].map((day) => ({ from: day * DAY + 480, to: day * DAY + 1020 }));
  const operations = [operation('cure', { work: 600 }), operation('handover', byAda(30))];
  const jobs = [
    { name: 'job', stays: [], release: 0, pickupOpen, handover: 1, ready: 0, promise: { at: 990, weight: 1 } },
  ];
  const problem = problemOf({ ...shift, operations, jobs, lags: [follows(0, 1)] });
  const schedule = planned([
    [380, 980],
    [980, 1010],
  ]);

  it('of a car that is ready after closing waits for the next opening', () => {
    const { jobs } = simulate({ problem, schedule, factors: [times(1.8), certain], scenarios: 1, seed: 1 });
    expect([jobs[0]!.ready[0], jobs[0]!.pickup[0], jobs[0]!.promiseKept]).toEqual([1080, DAY + 480, 0]);
  });

  it('comes no earlier than the customer was told, unless it is asked what could have been told', () => {
    const input = { problem, schedule, factors: [certain, certain], scenarios: 1, seed: 1 };
    expect(simulate(input).jobs[0]!.pickup[0]).toBe(980);
    const asReady = simulate({ ...input, rules: { pickups: 'asSoonAsReady' } });
    expect(asReady.jobs[0]!.pickup[0]).toBe(600);
  });
});

describe('work under way', () => {
  it('is expected to last longer the longer it has lasted', () => {
    const fixed = { start: 480, mode: 0, end: 600, by: 'fact' as const };
    const left = (now: number) => {
      const work: Operation = operation('compound', byAda(100), { fixed: { ...fixed, end: now + 10 }, pausable: true });
      const problem = problemOf({ ...shift, operations: [work], now });
      const { jobs } = simulate({
        problem,
        schedule: planned([[480, now + 10]]),
        factors: [{ logMean: 0, logDeviation: 0.3 }],
        scenarios: 2000,
        seed: 4,
      });
      return { least: jobs[0]!.ready[0]! - now, median: jobs[0]!.readyQuantiles[3]! - now };
    };
    // Median of a log-normal with median 100 and deviation 0.3, given that it is above 40 and above 200.
    expect(left(520).median).toBeGreaterThan(55);
    expect(left(520).median).toBeLessThan(64);
    expect(left(680).least).toBeGreaterThan(0);
    expect(left(680).median).toBeGreaterThan(10);
  });

  it('ends when the plan says where nothing is uncertain', () => {
    const fixed = { start: 480, mode: 0, end: 610, by: 'fact' as const };
    const problem = problemOf({ ...shift, operations: [operation('compound', byAda(100), { fixed })], now: 600 });
    expect(
      simulate({ problem, schedule: planned([[480, 610]]), factors: [certain], scenarios: 1, seed: 1 }).jobs[0]!
        .ready[0],
    ).toBe(610);
  });

  it('that is waiting for an answer has no memory of how long it has waited', () => {
    const fixed = { start: 0, mode: 0, end: 60_000, by: 'fact' as const };
    const problem = problemOf({ operations: [operation('answer', { work: 10_000 }, { fixed })], now: 50_000 });
    const answer: WorkFactor = { logMean: 0, logDeviation: 1, law: 'exponential' };
    const input = { problem, schedule: planned([[0, 60_000]]), factors: [answer], scenarios: 5000, seed: 2 };
    const { mean } = meanAndVariance(simulate(input).jobs[0]!.ready);
    // Three standard errors of the mean of 5,000 exponentials.
    expect(Math.abs(mean - 60_000)).toBeLessThan(3 * (10_000 / Math.sqrt(5000)));
  });
});

describe('a surprise', () => {
  it('adds its work in the stated share of scenarios', () => {
    const problem = problemOf({ operations: [operation('final inspection', { work: 30 })] });
    const { jobs } = simulate({
      problem,
      schedule: planned([[0, 30]]),
      factors: [certain],
      surprises: [
        { probability: 0.1, effects: [{ operation: 0, extraWork: { logMean: Math.log(60), logDeviation: 0 } }] },
      ],
      scenarios: 5000,
      seed: 9,
    });
    const failed = jobs[0]!.ready.filter((minute) => minute === 90).length / 5000;
    expect(jobs[0]!.ready.filter((minute) => minute === 30).length / 5000).toBeCloseTo(1 - failed, 12);
    // Three standard errors of a share of 0.1 in 5,000.
    expect(Math.abs(failed - 0.1)).toBeLessThan(0.0128);
  });
});

describe('a simulation', () => {
  const operations = [operation('one', { work: 60 }), operation('two', { work: 60 }, { job: 1 })];
  const problem = problemOf({ operations });
  const schedule = planned([
    [0, 60],
    [0, 60],
  ]);
  const uncertain = { logMean: 0, logDeviation: 0.2 };
  const input: SimulationInput = { problem, schedule, factors: [uncertain, uncertain], scenarios: 200, seed: 3 };

  it('repeats itself', () => {
    expect(simulate(input)).toEqual(simulate(input));
    expect([...simulate({ ...input, seed: 4 }).jobs[0]!.ready]).not.toEqual([...simulate(input).jobs[0]!.ready]);
  });

  it('is plain data that a worker can be sent and can send back', () => {
    expect(structuredClone(simulate(structuredClone(input)))).toEqual(simulate(input));
  });

  it('gives an operation the same luck whatever else is in the plan', () => {
    const alone = { ...input, problem: problemOf({ operations: [operations[1]!].map((o) => ({ ...o, job: 0 })) }) };
    const second = simulate({ ...alone, schedule: planned([[0, 60]]), factors: [uncertain], streams: [77] }).jobs[0]!
      .ready;
    expect([...simulate({ ...input, streams: [5, 77] }).jobs[1]!.ready]).toEqual([...second]);
  });

  it('spreads as much wider as the calibration asks', () => {
    const width = (spreadFactor: number) => {
      const { readyQuantiles } = simulate({ ...input, scenarios: 2000, spreadFactor }).jobs[0]!;
      return Math.log(readyQuantiles[6]! / readyQuantiles[3]!);
    };
    expect(width(2) / width(1)).toBeCloseTo(2, 0);
    expect(width(0)).toBe(0);
  });

  it('names what is wrong with its input', () => {
    expect(() => simulate({ ...input, scenarios: 0 })).toThrow('scenarios must be');
    expect(() => simulate({ ...input, factors: [certain] })).toThrow('factors must have 2 entries');
    const negative = { ...input, factors: [certain, { logMean: 0, logDeviation: -1 }] };
    expect(() => simulate(negative)).toThrow('factors[1].logDeviation');
    const nobody = { ...input, surprises: [{ probability: 2, effects: [] }] };
    expect(() => simulate(nobody)).toThrow('surprises[0].probability');
  });
});

describe('a person whose next car is late', () => {
  // Ada: a wash of car 1 that waits for its unattended soak, then the intake of car 2, which is there already.
  const operations = [
    operation('soak', { work: 60 }),
    operation('wash', byAda(60)),
    operation('intake', byAda(30), { job: 1, release: 540 }),
  ];
  const problem = problemOf({ ...shift, operations, lags: [follows(0, 1)] });
  const schedule = planned([
    [480, 540],
    [540, 600],
    [600, 630],
  ]);
  const late = (factor: number, queues: 'inPlannedOrder' | 'fillingGaps') =>
    run(problem, schedule, [times(factor), certain, certain], { rules: { starts: 'notBeforePlanned', queues } });

  it('waits for it, where the order is kept', () => {
    // 12:00 is the break.
    expect(late(3, 'inPlannedOrder').map((each) => each!.start)).toEqual([480, 660, 780]);
  });

  it('first does what comes after it and is done by then', () => {
    expect(late(3, 'fillingGaps').map((each) => each!.start)).toEqual([480, 660, 600]);
  });

  it('does not begin what would keep the late car waiting', () => {
    // The soak ends at 9:20; the intake would take from 10:00 until 10:30.
    expect(late(4 / 3, 'fillingGaps').map((each) => each!.start)).toEqual([480, 560, 620]);
  });
});
