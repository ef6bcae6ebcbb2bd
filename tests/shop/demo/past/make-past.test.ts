import { describe, expect, test } from 'vitest';
import { readDemo } from '../../../../src/shop/demo/demo-data.ts';
import { type DemoPast, makePast } from '../../../../src/shop/demo/past/make-past.ts';
import { whatHappened } from '../../../../src/shop/floor/what-happened.ts';
import { lessonsOf } from '../../../../src/shop/promises/floor-lessons.ts';
import { linesOf } from '../../../../src/shop/utilisation/estimates.ts';
import { addDays, localInstant } from '../../../../src/trade/calendar/local-instant.ts';
import { openHours } from '../../../../src/trade/calendar/open-hours.ts';
import { doneWork } from '../../../../src/trade/formulate/done-work.ts';
import { eventsByJob } from '../../../../src/trade/formulate/events-by-job.ts';
import { readFloor } from '../../../../src/trade/formulate/floor-record.ts';
import type { FloorEvent } from '../../../../src/trade/model/job.ts';
import type { Instant } from '../../../../src/trade/model/time.ts';
import { commonNorms } from '../../../../src/trade/work-content/common-norms.ts';

const demo = await readDemo();
const zone = demo.shop.timeZone;

/** The demo's past before the working day `then`. */
function pastBefore(then: string): DemoPast & { readonly end: Instant } {
  const openings: Instant[] = [];
  for (let date = addDays(then, -60); date < then; date = addDays(date, 1)) {
    const weekday = new Date(`${date}T00:00:00Z`).getUTCDay();
    if (weekday > 0 && weekday < 6) openings.push(localInstant(date, '08:00', zone, 'start'));
  }
  let ids = 0;
  const opens = localInstant(then, '08:00', zone, 'start');
  return { ...makePast(demo, openings, opens, () => `id-${++ids}`), end: opens };
}

const eventsOf = ({ events }: DemoPast) => eventsByJob(events.map((event, sequence) => ({ ...event, sequence })));

function visitsOf(past: DemoPast) {
  const events = eventsOf(past);
  return past.jobs.map((job) => ({
    job,
    recipe: demo.recipes.find(({ id }) => id === job.recipeId)!,
    events: events.get(job.id)! as readonly FloorEvent[],
  }));
}

/** What overlaps among spans of one thing, as text. */
function overlaps(spans: readonly { of: string; from: number; to: number }[]): string[] {
  const inOrder = [...spans].sort((a, b) => (a.of < b.of ? -1 : a.of > b.of ? 1 : a.from - b.from));
  return inOrder.slice(1).flatMap((span, k) => {
    const before = inOrder[k]!;
    return before.of === span.of && span.from < before.to ? [`${span.of} at ${new Date(span.from).toISOString()}`] : [];
  });
}

// A Monday, a Wednesday, and the Friday after the clocks have changed.
describe.each(['2026-03-02', '2026-07-15', '2026-04-03'])('the demo’s past before %s', (day) => {
  const past = pastBefore(day);
  const visits = visitsOf(past);
  const happened = visits.map(({ events }) => whatHappened(events, past.end));
  const forgotten = new Set(demo.past.forgottenFinishes.map(({ kind }) => kind));

  test('is over: every car of it has come, was worked on to the end and has left', () => {
    expect(past.jobs.length).toBeGreaterThan(demo.past.weeks * 5);
    for (const [index, { job, recipe }] of visits.entries()) {
      const { arrivedAt, pickedUpAt, work } = happened[index]!;
      expect(job.state).toBe('done');
      expect([job.cameAt, job.leftAt]).toEqual([arrivedAt, pickedUpAt]);
      expect(job.leftAt).toBeLessThanOrEqual(past.end);
      expect([...work.values()].every(({ state }) => state === 'finished')).toBe(true);
      expect([...work.keys()]).toContain(recipe.steps.find(({ kind }) => kind === 'handover')!.key);
    }
    const recipes = new Set(past.jobs.map(({ recipeId }) => recipeId));
    expect(recipes).toEqual(new Set(demo.past.carsAWeek.map(({ recipeId }) => recipeId)));
  });

  test('holds one car in a place and has a car in one place', () => {
    const stays = happened.flatMap(({ stays }) =>
      stays.map(({ placeId, from, to }) => ({ of: placeId, from, to: to! })),
    );
    expect(stays.length).toBeGreaterThan(past.jobs.length);
    expect(overlaps(stays)).toEqual([]);
  });

  test('has nobody do two things at once, nor what they cannot, nor begin outside their hours', () => {
    const days = { zone, from: addDays(day, -70), to: addDays(day, 1) };
    const work = visits.flatMap(({ recipe }, index) =>
      [...happened[index]!.work].flatMap(([key, { pieces }]) => {
        const step = recipe.steps.find((each) => each.key === key.split('.')[0]);
        return pieces.map(({ from, to, by }) => ({ of: by[0]!, from, to: to!, step }));
      }),
    );
    const told = work.filter(({ step }) => step === undefined || !forgotten.has(step.kind));
    expect(overlaps(told)).toEqual([]);
    for (const technician of demo.technicians) {
      const { open } = openHours(days, technician.shifts, technician.exceptions);
      for (const { from, step } of work.filter(({ of }) => of === technician.id)) {
        expect(open.some((hours) => hours.from <= from && from < hours.to)).toBe(true);
        const { skill, level } = step?.crew ?? { skill: 'polishing', level: 1 };
        expect(technician.skills.some((own) => own.skill === skill && own.level >= level)).toBe(true);
      }
    }
  });

  test('leaves no chemistry on longer than the recipe allows, and lays no layer sooner', () => {
    for (const [index, { recipe }] of visits.entries()) {
      const { work } = happened[index]!;
      for (const { from, to, min, max } of recipe.lags) {
        const [first, second] = [work.get(from.step), work.get(to.step)];
        if (first === undefined || second === undefined || from.edge !== 'end' || to.edge !== 'start') continue;
        // Whose end was told late is found elsewhere.
        if (forgotten.has(recipe.steps.find(({ key }) => key === from.step)!.kind)) continue;
        const minutes = (second.pieces[0]!.from - first.pieces.at(-1)!.to!) / 60_000;
        if (min.by === 'minutes') expect(minutes).toBeGreaterThanOrEqual(min.minutes);
        if (max?.by === 'minutes' && max.minutes <= 15) expect(minutes).toBeLessThanOrEqual(max.minutes);
      }
    }
  });

  test('teaches what the seed says: how often work was biased, ends were forgotten and inspections failed', () => {
    const lessons = lessonsOf(visits, demo.shop, demo.technicians, past.end);
    for (const { kind } of demo.past.forgottenFinishes) {
      expect(lessons.setAside.some(({ record, reason }) => record.kind === kind && reason === 'tooLong')).toBe(true);
    }
    expect(lessons.inspectionFails.happened).toBeGreaterThan(0);
    expect(lessons.inspectionFails.happened).toBeLessThanOrEqual(demo.past.failedInspections.length);
    const records = lessons.learned.durations.kinds.get('compound')!.records;
    expect(records).toBeGreaterThan(5);
    // The interval is of the geometric mean, so that the seed's factor lies in it, but for people's own pace of up to 10 %.
    const technicians = new Map(demo.technicians.map((each) => [each.id, each]));
    const compounded = visits
      .filter(({ job }) => job.vehicle.paintHardness === 'hard')
      .flatMap((visit) => {
        const record = readFloor(visit.events, past.end);
        return doneWork({ ...visit, record }, demo.shop, technicians, commonNorms).work;
      })
      .filter(({ kind }) => kind === 'compound');
    const [line] = linesOf(compounded.map((work) => ({ ...work, id: 'hard', name: 'hard' })));
    const seeded = demo.past.reallyPercent.find(({ kind }) => kind === 'compound')!.percent;
    expect(line!.fromPercent).toBeLessThan(seeded * 1.1);
    expect(line!.toPercent).toBeGreaterThan(seeded * 0.9);
    expect(line!.percent).toBeGreaterThan(110);
  });

  test('kept its promises about as often as it said, but not all of them', () => {
    const { promises } = lessonsOf(visits, demo.shop, demo.technicians, past.end);
    expect(promises).toHaveLength(past.jobs.length);
    const kept = promises.filter(({ achievedAt, promisedAt }) => achievedAt <= promisedAt).length;
    const said = promises.reduce((sum, { confidence }) => sum + confidence, 0) / promises.length;
    expect(said * 100).toBeGreaterThanOrEqual(demo.shop.promiseConfidencePercent);
    // Three standard errors of a binomial share.
    const error = Math.sqrt((said * (1 - said)) / promises.length);
    expect(Math.abs(kept / promises.length - said)).toBeLessThan(3 * error);
    expect(kept).toBeLessThan(promises.length);
  });

  test('is the same from the same seed', () => {
    expect(pastBefore(day)).toEqual(past);
  });
});
