import { describe, expect, it } from 'vitest';
import type { Releases } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { aJob, at, floor, type Happening } from './a-job.ts';
import { aRecipe, aStep, reader, smallShop } from './small-shop.ts';

// Monday 1 June 2026, 07:00 in Berlin is 05:00Z. The shop is open from 06:00Z to 15:00Z.
function termsOf(job: object, given: object = {}, releases: Releases = {}) {
  const formulation = formulate(smallShop({ jobs: [aJob('small', job)], ...given }), releases);
  expect(formulation.leftOut).toEqual([]);
  const read = reader(formulation);
  return { formulation, job: formulation.problem.jobs[0]!, ...read };
}

describe('a drop-off hour told to the customer', () => {
  const told = { dropOffAt: at('2026-06-02T07:15Z') };

  it('is kept: intake is frozen to it, by whomever', () => {
    const { job, operation, iso } = termsOf(told);
    const intake = operation('intake');
    expect(job.arrival).toBeDefined();
    expect(intake.fixed).toMatchObject({ by: 'frozen' });
    expect(intake.fixed!.mode).toBeUndefined();
    expect(iso(intake.fixed!.start)).toBe('2026-06-02T07:15');
    expect(job.dropOffOpen).toBeUndefined();
  });

  it('that is released may be late, never early, and only in opening hours', () => {
    const { job, operation, iso } = termsOf(told, {}, { dropOffsOf: new Set([aJob('small').id]) });
    expect(operation('intake').fixed).toBeUndefined();
    expect(iso(job.release)).toBe('2026-06-02T07:15');
    expect(job.dropOffOpen).toBeDefined();
  });

  it('that is released may be late by no more than is said', () => {
    const dropOffsOf = new Set([aJob('small').id]);
    const { job, minute } = termsOf(told, {}, { dropOffsOf, dropOffsWithinMinutes: 30 });
    expect(job.dropOffOpen).toEqual([{ from: minute('2026-06-02T07:15Z'), to: minute('2026-06-02T07:46Z') }]);
  });

  it('that has passed has the car come within the half hour, or as soon as the shop is open', () => {
    const opens = (now: string) => termsOf(told, { now: at(now) });
    const { job, minute } = opens('2026-06-02T08:00Z');
    expect(job.dropOffOpen).toEqual([{ from: minute('2026-06-02T08:00Z'), to: minute('2026-06-02T08:31Z') }]);
    // The shop closes at 15:00Z and opens at 06:00Z.
    const late = opens('2026-06-02T14:50Z');
    expect(late.job.dropOffOpen).toEqual([
      { from: late.minute('2026-06-02T14:50Z'), to: late.minute('2026-06-02T15:00Z') },
      { from: late.minute('2026-06-03T06:00Z'), to: late.minute('2026-06-03T06:21Z') },
    ]);
  });

  it('that has passed without the car lets it come from now on, and the desk is told', () => {
    const { job, operation, iso, formulation } = termsOf(told, { now: at('2026-06-02T08:00Z') });
    expect(operation('intake').fixed).toBeUndefined();
    expect(iso(job.release)).toBe('2026-06-02T08:00');
    expect(formulation.notices.map(({ kind }) => kind)).toEqual(['notArrived']);
  });

  it('is forgotten once the car is there, early or late', () => {
    const events = floor(['2026-06-02T06:50Z', { kind: 'arrived', placeId: 'wetBay' }]);
    const { job, operation, iso } = termsOf({ ...told, state: 'inShop' }, { now: at('2026-06-02T07:00Z'), events });
    expect(job.arrival).toBeUndefined();
    expect(operation('intake').fixed).toBeUndefined();
    expect(iso(job.release)).toBe('2026-06-02T06:50');
  });
});

describe('a promised pickup', () => {
  const promise = { pickupAt: at('2026-06-03T13:00Z'), givenAt: at('2026-05-20T08:00Z'), confidencePercent: 90 };

  it('weighs by priority, and the handover is not before it: the customer comes then', () => {
    const { job, operation, minute } = termsOf({ promise, priority: 4 });
    expect(job.promise).toEqual({ at: minute('2026-06-03T13:00Z'), weight: 4 });
    expect(operation('handover').release).toBe(minute('2026-06-03T13:00Z'));
  });

  it('in opening hours leaves them as they are: many cars share one list', () => {
    const { job } = termsOf({ promise });
    expect(job.pickupOpen).toBe(job.dropOffOpen);
  });

  it('outside opening hours is an hour of its own', () => {
    const late = { ...promise, pickupAt: at('2026-06-03T18:00Z') };
    const { job, minute } = termsOf({ promise: late });
    expect(job.pickupOpen).toContainEqual({ from: minute('2026-06-03T18:00Z'), to: minute('2026-06-03T18:01Z') });
  });
});

describe('a car that nobody fetches', () => {
  const wash = [
    ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'wetBay' }],
    ['2026-06-01T06:00Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
    ['2026-06-01T07:00Z', { kind: 'finished', operation: 'wash' }],
  ] as const;
  const quick = aRecipe({
    stays: [{ key: 'wash', needs: ['wet'], optional: false }],
    steps: [
      aStep('wash', 'contactWash', 'wash', 60, { skill: 'wash' }),
      aStep('handover', 'handover', 'wash', 10, { skill: 'intake' }),
    ],
    lags: [],
    airSpans: [],
    stills: [],
  });
  const promisedAt = (pickup: string, now: string, ...more: readonly Happening[]) => {
    const promise = { pickupAt: at(pickup), givenAt: at('2026-05-20T08:00Z'), confidencePercent: 90 };
    const given = { now: at(now), events: floor(...wash, ...more), recipes: [quick] };
    const { job, iso } = termsOf({ state: 'inShop', promise, priority: 4 }, given);
    return iso(job.promise!.at);
  };

  it('though it stood ready by its hour is late only from when somebody comes for it', () => {
    expect(promisedAt('2026-06-01T08:00Z', '2026-06-01T07:30Z')).toBe('2026-06-01T08:00');
    expect(promisedAt('2026-06-01T08:00Z', '2026-06-01T09:10Z')).toBe('2026-06-01T09:10');
    const handover: Happening = ['2026-06-01T09:00Z', { kind: 'started', operation: 'handover', by: ['ada'] }];
    expect(promisedAt('2026-06-01T08:00Z', '2026-06-01T09:05Z', handover)).toBe('2026-06-01T09:00');
  });

  it('and was not ready by its hour is as late as it was', () => {
    expect(promisedAt('2026-06-01T06:50Z', '2026-06-01T09:10Z')).toBe('2026-06-01T06:50');
  });
});

it('a wanted pickup is a due time, not a promise', () => {
  const { job, operation, minute } = termsOf({ wantedPickupAt: at('2026-06-03T13:00Z'), priority: 2 });
  expect(job.due).toEqual({ at: minute('2026-06-03T13:00Z'), weight: 2 });
  expect(job.promise).toBeUndefined();
  expect(operation('handover').release).toBeUndefined();
});

it('a car without a told hour comes and goes in opening hours', () => {
  const { job, minute } = termsOf({});
  const monday = { from: minute('2026-06-01T06:00Z'), to: minute('2026-06-01T15:00Z') };
  expect(job.dropOffOpen![0]).toEqual(monday);
  expect(job.pickupOpen![0]).toEqual(monday);
});

it('an arranged hour is kept by the person named, who is there for it outside the shift', () => {
  const { job, operation, formulation, minute } = termsOf({
    dropOffAt: at('2026-06-01T17:30Z'),
    arranged: { dropOffBy: 'bo', pickupBy: null },
  });
  expect(job.dropOffOpen).toBeUndefined();
  const people = operation('intake').modes.map(({ uses }) => uses.map(({ resource }) => formulation.people[resource]));
  expect([...new Set(people.flat())]).toEqual(['bo']);
  const person = formulation.problem.resources[formulation.people.indexOf('bo' as never)]!;
  const evening = { from: minute('2026-06-01T17:30Z'), to: minute('2026-06-01T18:30Z') };
  expect(person.open).toContainEqual(evening);
  expect(person.overtime).toEqual([evening]);
});
