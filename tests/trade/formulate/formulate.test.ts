import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { explainDuration } from '../../../src/trade/formulate/explain-duration.ts';
import { formulate, formulateCandidate } from '../../../src/trade/formulate/formulate.ts';
import type { Formulation } from '../../../src/trade/formulate/formulation.ts';
import { readPlan } from '../../../src/trade/formulate/read-plan.ts';
import { Plan } from '../../../src/trade/model/plan.ts';
import { aJob, at, floor, floorOf } from './a-job.ts';
import { ada, aRecipe, aStep, bo, reader, smallShop } from './small-shop.ts';

function plan(book: Book): { formulation: Formulation; schedule: Schedule; plan: Plan } {
  const formulation = formulate(book);
  expect(formulation.leftOut).toEqual([]);
  expect(validate(formulation.problem)).toEqual([]);
  const { schedule } = solve(formulation.problem, { seed: 1, workLimit: 5_000 });
  expect(check(formulation.problem, schedule!)).toEqual([]);
  const meta = { version: 3, madeAt: book.now, reason: 'test', objective: [], seed: 1, interrupted: false };
  return { formulation, schedule: schedule!, plan: Plan.parse(readPlan(formulation, schedule!, meta)) };
}

const early = { dropOffAt: at('2026-06-01T06:00Z') };

describe('a plan read back', () => {
  it('of a car not yet there has its drop-off, its places and its pickup', () => {
    const { plan: made } = plan(smallShop({ jobs: [aJob('small', early)] }));
    const [job] = made.jobs;
    // Intake 06:00Z, wash 06:30Z, move by 07:40Z, wipe, coat by 09:10Z, ten hours of cure: inspection the next morning.
    expect(job!.dropOffAt).toBe(at('2026-06-01T06:00Z'));
    expect(job!.readyAt).toBe(at('2026-06-02T06:20Z'));
    expect(job!.pickupAt).toBe(at('2026-06-02T06:20Z'));
    expect(job!.lateMinutes).toBe(0);
    expect(made.stays).toEqual([
      { jobId: 'job1', placeId: 'wetBay', from: at('2026-06-01T06:00Z'), to: at('2026-06-01T07:40Z') },
      { jobId: 'job1', placeId: 'coatBay', from: at('2026-06-01T07:40Z'), to: at('2026-06-02T06:50Z') },
    ]);
    const cure = made.operations.find(({ operation }) => operation === 'cure')!;
    expect(cure).toMatchObject({ people: [], sharePercent: 0, placeId: 'coatBay', state: 'planned' });
    expect(cure.pieces).toEqual([{ from: cure.start, to: cure.end }]);
  });

  it('says by how many minutes a promise is broken', () => {
    const promise = { pickupAt: at('2026-06-02T06:00Z'), givenAt: at('2026-05-20T08:00Z'), confidencePercent: 90 };
    const { plan: made } = plan(smallShop({ jobs: [aJob('small', { ...early, promise })] }));
    expect(made.jobs[0]!.lateMinutes).toBe(20);
  });

  it('keeps the past as it was recorded: places, people, pieces', () => {
    const events = floor(
      ['2026-06-01T06:00:20Z', { kind: 'arrived', placeId: 'wetBay' }],
      ['2026-06-01T06:01Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
      ['2026-06-01T06:21Z', { kind: 'interrupted', operation: 'wash', reason: 'telephone' }],
      ['2026-06-01T06:30Z', { kind: 'resumed', operation: 'wash' }],
      ['2026-06-01T07:10Z', { kind: 'finished', operation: 'wash' }],
      ['2026-06-01T07:20Z', { kind: 'moved', placeId: 'coatBay' }],
    );
    const { plan: made } = plan(
      smallShop({ now: at('2026-06-01T07:30Z'), jobs: [aJob('small', { state: 'inShop' })], events }),
    );
    const wash = made.operations.find(({ operation }) => operation === 'wash')!;
    expect(wash).toMatchObject({ state: 'finished', people: ['bo'], placeId: 'wetBay' });
    expect(wash.pieces).toEqual([
      { from: at('2026-06-01T06:01Z'), to: at('2026-06-01T06:21Z') },
      { from: at('2026-06-01T06:30Z'), to: at('2026-06-01T07:10Z') },
    ]);
    expect(made.stays.map(({ placeId, from }) => [placeId, from])).toEqual([
      ['wetBay', at('2026-06-01T06:00:20Z')],
      ['coatBay', at('2026-06-01T07:20Z')],
    ]);
    expect(made.jobs[0]!.dropOffAt).toBe(at('2026-06-01T06:00:20Z'));
  });

  it('shows pausable work in pieces, lunch and the night between them', () => {
    const steps = aRecipe().steps.map((step) =>
      step.key === 'wash' ? { ...step, pausable: true, duration: { by: 'minutes' as const, minutes: 500 } } : step,
    );
    const { plan: made } = plan(smallShop({ recipes: [aRecipe({ steps })], jobs: [aJob('small', early)] }));
    const wash = made.operations.find(({ operation }) => operation === 'wash')!;
    // 210 minutes to lunch, 270 after it, 20 the next morning.
    expect(wash.pieces.map(({ from, to }) => (to - from) / 60_000)).toEqual([210, 270, 20]);
  });
});

describe('the same instants', () => {
  it('survive a daylight-saving change: a cure over the long night ends after ten elapsed hours', () => {
    // In Berlin the night to Sunday 25 October 2026 has one hour more (Directive 2000/84/EC); Saturday is worked here.
    const shifts = { saturday: [{ from: '08:00', to: '20:00' }], sunday: [{ from: '04:00', to: '12:00' }] };
    const shop = { ...smallShop().shop, hours: shifts };
    const job = aJob('small', { earliestDropOff: at('2026-10-24T06:00Z'), dropOffAt: at('2026-10-24T12:00Z') });
    const { plan: made } = plan(
      smallShop({ shop, technicians: [ada({ shifts }), bo({ shifts })], now: at('2026-10-24T05:00Z'), jobs: [job] }),
    );
    const of = (key: string) => made.operations.find(({ operation }) => operation === key)!;
    // Drop-off 14:00 summer time; coated by 17:10 (15:10Z); cured at 01:10Z, which is 02:10 winter time, and not 03:10.
    expect(of('coat').end).toBe(at('2026-10-24T15:10Z'));
    expect(of('cure').end).toBe(at('2026-10-25T01:10Z'));
    // Sunday's work begins at 04:00 winter time, 03:00Z.
    expect(of('finalInspection').start).toBe(at('2026-10-25T03:00Z'));
  });

  it('of a shop in another zone are its own: eight in the morning in New York is 12:00Z in summer', () => {
    const shop = { ...smallShop().shop, timeZone: 'America/New_York' };
    const formulation = formulate(smallShop({ shop, jobs: [aJob('small')] }));
    const { minute } = reader(formulation);
    expect(formulation.problem.jobs[0]!.dropOffOpen![0]!.from).toBe(minute('2026-06-01T12:00Z'));
    // 8 March 2026 in New York: the clocks have changed (Energy Policy Act of 2005), and eight is 12:00Z, the Friday before 13:00Z.
    const march = formulate(smallShop({ shop, now: at('2026-03-06T05:00Z'), jobs: [aJob('small')] }));
    const opening = march.problem.jobs[0]!.dropOffOpen!.map(({ from }) => march.axis.toInstant(from));
    expect(opening.slice(0, 2)).toEqual([at('2026-03-06T13:00Z'), at('2026-03-09T12:00Z')]);
  });
});

describe('a candidate for a quote', () => {
  it('comes last, and leaves all that was there as it was', () => {
    const book = smallShop({ jobs: [aJob('small'), aJob('small', { id: 'job2' })] });
    const before = formulate(book).problem;
    const { formulation, candidate } = formulateCandidate(book, aJob('small', { id: 'job3', state: 'held' }));
    expect(candidate).toBe(2);
    const { problem } = formulation;
    expect(problem.operations.slice(0, before.operations.length)).toEqual(before.operations);
    expect(problem.stays.slice(0, before.stays.length)).toEqual(before.stays);
    expect(problem.lags.slice(0, before.lags.length)).toEqual(before.lags);
    expect(problem.progresses.slice(0, before.progresses.length)).toEqual(before.progresses);
    expect(problem.resources).toEqual(before.resources);
  });

  it('that cannot be planned has no index and a reason', () => {
    const { formulation, candidate } = formulateCandidate(smallShop(), aJob('none', { id: 'job3' }));
    expect(candidate).toBeUndefined();
    expect(formulation.leftOut).toHaveLength(1);
  });
});

describe('jobs that are not planned', () => {
  it('are those closed, and those whose car is gone', () => {
    const jobs = [
      aJob('small', { id: 'a', state: 'cancelled' }),
      aJob('small', { id: 'b', state: 'done' }),
      aJob('small', { id: 'c', state: 'inShop' }),
      aJob('small', { id: 'd' }),
    ];
    const events = floorOf('c', ['2026-06-01T04:00Z', { kind: 'pickedUp' }]);
    expect(formulate(smallShop({ jobs, events })).jobs.map(({ job }) => job.id)).toEqual(['d']);
  });

  it('keep the place they stand in, when they cannot be planned', () => {
    const events = floor(['2026-06-01T04:00Z', { kind: 'arrived', placeId: 'coatBay' }]);
    const { leftOut, problem } = formulate(smallShop({ jobs: [aJob('none', { state: 'inShop' })], events }));
    // Without its recipe nothing is known of the car but that it is there.
    expect(leftOut).toHaveLength(1);
    expect(problem.takenPlaces).toEqual([{ place: 1, from: problem.now, to: problem.horizon }]);
  });
});

it('the last plan is told to the engine for what is still to come, where it can still be done so', () => {
  const book = smallShop({ jobs: [aJob('small', early)] });
  const { plan: last } = plan(book);
  const { problem } = formulate({ ...book, previousPlan: last });
  const { index, minute } = reader(formulate(book));
  const previous = problem.previous!.operations[index('wash')]!;
  expect(previous.start).toBe(minute('2026-06-01T06:30Z'));
  // Nobody who washed in the last plan is there any more.
  const fewer = formulate({ ...book, technicians: [ada(), bo({ id: 'cy' })], previousPlan: last });
  expect(fewer.problem.previous!.operations[index('wash')]).toBeNull();
});

describe('why it takes so long', () => {
  const recipe = aRecipe({
    steps: aRecipe().steps.map((step) => (step.key === 'wash' ? { ...step, duration: { by: 'workContent' } } : step)),
  });

  it('is told by lines that add up to the minutes planned, the pace of the crew among them', () => {
    const formulation = formulate(
      smallShop({ technicians: [ada(), bo({ pacePercent: 80 })], recipes: [recipe], jobs: [aJob('small')] }),
    );
    const wash = reader(formulation).index('wash');
    const { minutes, lines } = explainDuration(formulation, wash, 0);
    expect(minutes).toBe(formulation.problem.operations[wash]!.modes[0]!.work);
    expect(lines.reduce((sum, line) => sum + line.minutes, 0)).toBe(minutes);
    expect(lines.at(-1)!.label).toBe('pace 80 %');
    expect(minutes).toBe(Math.ceil(formulation.operations[wash]!.breakdown.minutes / 0.8));
  });

  it('adds up for every operation and mode of a formulation', () => {
    const formulation = formulate(smallShop({ recipes: [recipe], jobs: [aJob('small')] }));
    for (const [index, { modes }] of formulation.problem.operations.entries()) {
      for (const mode of modes.keys()) {
        const { minutes, lines } = explainDuration(formulation, index, mode);
        expect(lines.reduce((sum, line) => sum + line.minutes, 0)).toBe(minutes);
      }
    }
  });
});

it('two rules for the same people: who wiped coats, though another could', () => {
  const cy = { ...ada(), id: 'cy' as never, name: 'cy', lead: false };
  const events = floor(
    ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'coatBay' }],
    ['2026-06-01T06:10Z', { kind: 'started', operation: 'wipe', by: ['cy'] }],
    ['2026-06-01T06:40Z', { kind: 'finished', operation: 'wipe' }],
  );
  const { plan: made } = plan(
    smallShop({
      technicians: [ada(), bo(), cy],
      now: at('2026-06-01T06:45Z'),
      jobs: [aJob('small', { state: 'inShop' })],
      events,
    }),
  );
  expect(made.operations.find(({ operation }) => operation === 'coat')!.people).toEqual(['cy']);
});

it('open coating and dust do not meet in a zone that forbids it; behind a barrier mist and coating may', () => {
  const dusty = aRecipe({
    id: 'dusty',
    steps: [
      aStep('intake', 'intake', 'wash', 10, { skill: 'driving' }),
      aStep('sand', 'dustRemoval', 'wash', 60, { skill: 'polishing', air: ['dust'] }),
      aStep('handover', 'handover', 'wash', 10, { skill: 'driving' }),
    ],
    stays: [{ key: 'wash', needs: ['wet'], optional: false }],
    lags: [],
    airSpans: [],
    stills: [],
  });
  const { formulation, plan: made } = plan(
    smallShop({ recipes: [aRecipe(), dusty], jobs: [aJob('small'), aJob('dusty', { id: 'job2' })] }),
  );
  expect(formulation.problem.airExclusions).toHaveLength(1);
  const of = (key: string) => made.operations.find(({ operation }) => operation === key)!;
  const apart = of('sand').end + 60 * 60_000 <= of('wipe').start || of('sand').start >= of('cure').end;
  expect(apart).toBe(true);
});
