import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { solve } from '../../../src/engine/solve.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { ConditionsReading } from '../../../src/trade/model/readings.ts';
import { aJob, at } from './a-job.ts';
import { aCoating, reader, smallShop } from './small-shop.ts';

function planOf(given: Partial<Book> = {}, job: object = {}) {
  const formulation = formulate(smallShop({ jobs: [aJob('small', job)], ...given }));
  expect(formulation.leftOut).toEqual([]);
  const { schedule } = solve(formulation.problem, { seed: 1, workLimit: 5_000 });
  expect(check(formulation.problem, schedule!)).toEqual([]);
  const read = reader(formulation);
  const span = (key: string) => {
    const planned = schedule!.operations[read.index(key)]!;
    return { start: read.iso(planned.start), end: read.iso(planned.end), minutes: planned.end - planned.start };
  };
  return { formulation, span, ...read };
}

const forecast = (iso: string, airTempC: number, relativeHumidityPercent: number) =>
  ConditionsReading.parse({
    airZoneId: 'hall',
    at: at(iso),
    source: 'forecast',
    airTempC,
    relativeHumidityPercent,
    panelTempC: null,
    jobId: null,
  });

it('a cure runs on through the night: ten hours of elapsed time, whoever has gone home', () => {
  const { span } = planOf();
  const cure = span('cure');
  expect(cure.minutes).toBe(600);
  expect(cure.start.slice(0, 10)).not.toBe(cure.end.slice(0, 10));
});

describe('a cure in colder air', () => {
  it("is slower: at 10 deg C below the sheet it takes twice as long (van 't Hoff)", () => {
    const airZones = smallShop().airZones.map((zone) => ({
      ...zone,
      setPoint: { airTempC: 10, relativeHumidityPercent: 50 },
    }));
    expect(planOf({ airZones }).span('cure').minutes).toBe(1200);
  });

  it('is counted by the hour: half of it warm, the rest at half speed', () => {
    // Four hours of forecast at a time: 20 deg C until 12:00Z, 10 deg C from then on to the next day.
    const cold = Array.from({ length: 40 }, (_, k) =>
      forecast(new Date(at('2026-06-01T12:00Z') + k * 3 * 3_600_000).toISOString(), 10, 50),
    );
    const formulation = formulate(smallShop({ jobs: [aJob('small')], readings: cold }));
    const { operation, minute } = reader(formulation);
    const [mode] = operation('cure').modes;
    const { at: from, rate } = formulation.problem.progresses[mode!.progress!]!;
    expect(mode!.work).toBe(600_000);
    expect(rate.slice(0, 2)).toEqual([1000, 500]);
    expect(from.slice(0, 2)).toEqual([0, minute('2026-06-01T12:00Z')]);
  });
});

describe('a coat', () => {
  it('is laid only where the air will stay fit until it is water-safe', () => {
    // Humid from 17:00Z to 20:00Z: with eight hours to water-safe, the coat must be done by 09:00Z, or begin after 20:00Z.
    const readings = [forecast('2026-06-01T17:00Z', 20, 90)];
    const formulation = formulate(smallShop({ jobs: [aJob('small')], readings }));
    const { operation, iso, minute } = reader(formulation);
    // While it is humid the sheet gives the same eight hours: it states no slower row.
    const allowed = operation('coat').modes[0]!.allowed!;
    expect(allowed.map(({ from, to }) => [from === 0 ? 'begin' : iso(from), iso(to)]).at(0)).toEqual([
      'begin',
      '2026-06-01T09:00',
    ]);
    expect(allowed[1]!.from).toBe(minute('2026-06-01T20:00Z'));
    // Wiped by 08:10Z at the earliest, it would be done by 09:10Z: it is laid the next morning.
    expect(planOf({ readings }).span('coat').start >= '2026-06-02').toBe(true);
  });

  it('that no air is ever fit for leaves the job out', () => {
    const airZones = smallShop().airZones.map((zone) => ({
      ...zone,
      setPoint: { airTempC: 20, relativeHumidityPercent: 80 },
    }));
    const { leftOut } = formulate(smallShop({ jobs: [aJob('small')], airZones }));
    expect(leftOut).toMatchObject([{ field: 'airZones', reason: expect.stringContaining('never fit') }]);
  });
});

describe('what holds of every coat', () => {
  const bare = (item: string) => {
    const recipe = smallShop().recipes[0]!;
    return {
      ...recipe,
      steps: recipe.steps.map((step) =>
        step.key === 'cure' ? { ...step, duration: { by: 'dataSheet' as const, item: item as 'dustSafe' } } : step,
      ),
    };
  };

  it('no handover before it is release-safe, though the recipe waits only until dust-safe', () => {
    const formulation = formulate(smallShop({ jobs: [aJob('small')], recipes: [bare('dustSafe')] }));
    const { lags } = reader(formulation);
    expect(lags('coat', 'handover')).toMatchObject([{ min: 600, guards: 'release-safe' }]);
  });

  it('no wash before it is water-safe', () => {
    const recipe = bare('dustSafe');
    const wash = { ...recipe.steps.find(({ key }) => key === 'wash')!, key: 'washAgain', stay: 'coat' };
    const steps = recipe.steps.flatMap((step) => (step.key === 'finalInspection' ? [wash, step] : [step]));
    const formulation = formulate(smallShop({ jobs: [aJob('small')], recipes: [{ ...recipe, steps }] }));
    expect(reader(formulation).lags('coat', 'washAgain')).toMatchObject([{ min: 480, guards: 'water-safe' }]);
  });
});

it('a data sheet the shop does not have leaves the job out', () => {
  const coatings = [{ ...aCoating(), id: 'other' as never }];
  expect(formulate(smallShop({ jobs: [aJob('small')], coatings })).leftOut).toMatchObject([
    { field: 'recipeId', reason: expect.stringContaining('"coatX"') },
  ]);
});
