import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { aJob, at, floor, floorOf, type Happening } from './a-job.ts';
import { aPlace, aRecipe, aStep, reader, smallShop } from './small-shop.ts';

const waiting = aRecipe({
  stays: [
    { key: 'wash', needs: ['wet'], optional: false },
    { key: 'wait', needs: ['hold'], optional: true },
    { key: 'coat', needs: ['coating'], optional: false },
  ],
});

function staysOf(facts: readonly Happening[] = [], given: Partial<Book> = {}) {
  const job = aJob('small', facts.length > 0 ? { state: 'inShop' } : {});
  const events = floor(...facts);
  const formulation = formulate(
    smallShop({ now: at('2026-06-01T09:00Z'), recipes: [waiting], jobs: [job], events, ...given }),
  );
  expect(formulation.leftOut).toEqual([]);
  const { problem, places } = formulation;
  const stays = problem.stays.map((stay) => ({
    places: stay.places.map((place) => places[place]),
    optional: stay.optional,
    fixed: stay.fixed === undefined ? undefined : places[stay.fixed.place],
  }));
  return { stays, formulation, ...reader(formulation) };
}

const washed: readonly Happening[] = [
  ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'wetBay' }],
  ['2026-06-01T06:00Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
  ['2026-06-01T07:00Z', { kind: 'finished', operation: 'wash' }],
];

describe('the places a car goes through', () => {
  it('are those of its recipe, waiting places being optional, each reached by a move', () => {
    const { stays, formulation } = staysOf();
    expect(stays).toEqual([
      { places: ['wetBay'], optional: false, fixed: undefined },
      { places: ['space'], optional: true, fixed: undefined },
      { places: ['coatBay'], optional: false, fixed: undefined },
    ]);
    const [first, ...others] = formulation.problem.stays;
    expect(first!.move).toBeUndefined();
    for (const { move } of others) expect(formulation.problem.operations[move!]!.presence).toBe('optional');
  });

  it('begin with the one it stands in, and what is left behind is not planned again', () => {
    const { stays, operation } = staysOf(washed);
    expect(stays.map(({ places, fixed }) => [places, fixed])).toEqual([
      [['wetBay'], 'wetBay'],
      [['space'], undefined],
      [['coatBay'], undefined],
    ]);
    expect(operation('wash').stay).toBe(0);
    expect(operation('wipe').stay).toBe(2);
  });

  it('include a place the recipe does not know, when the car stands there', () => {
    const { stays, operation } = staysOf([...washed, ['2026-06-01T08:00Z', { kind: 'moved', placeId: 'space' }]]);
    expect(stays.map(({ fixed, places }) => fixed ?? places.join())).toEqual(['space', 'space', 'coatBay']);
    expect(operation('wash').stay).toBeUndefined();
    expect(operation('wipe').stay).toBe(2);
  });

  it('take the place the car has been moved to as the one its next work is done in', () => {
    const { stays, operation } = staysOf([...washed, ['2026-06-01T08:00Z', { kind: 'moved', placeId: 'coatBay' }]]);
    expect(stays.map(({ fixed }) => fixed)).toEqual(['coatBay']);
    expect(operation('wipe').stay).toBe(0);
    expect(operation('handover').stay).toBe(0);
  });

  it('bring the car back for work begun in a place where it cannot be done', () => {
    const { stays, operation } = staysOf([
      ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'space' }],
      ['2026-06-01T06:00Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
      ['2026-06-01T06:30Z', { kind: 'finished', operation: 'intake' }],
    ]);
    expect(stays.map(({ fixed, places }) => fixed ?? places.join())).toEqual(['space', 'wetBay', 'space', 'coatBay']);
    expect(operation('wash').stay).toBe(1);
  });

  it('have a roof from the coating on', () => {
    const coatedThenHeld = aRecipe({
      stays: [...waiting.stays, { key: 'after', needs: ['hold'], optional: true }],
    });
    const places = [
      ...smallShop().places,
      aPlace('yard', ['hold'], { kind: 'parking', indoor: false, airZoneId: null }),
    ];
    // A stay after the last work is no place to wait for anything; put the handover there.
    const steps = coatedThenHeld.steps.map((step) => (step.key === 'handover' ? { ...step, stay: 'after' } : step));
    const { stays } = staysOf([], { places, recipes: [{ ...coatedThenHeld, steps }] });
    expect(stays.map(({ places: some }) => some)).toEqual([['wetBay'], ['space', 'yard'], ['coatBay'], ['space']]);
  });
});

it('a place closed for a day is open before and after', () => {
  const places = [
    aPlace('wetBay', ['wet'], { closures: [{ date: '2026-06-02', kind: 'off', parts: [] }] }),
    ...smallShop().places.slice(1),
  ];
  const { formulation, iso } = staysOf([], { places });
  const open = formulation.problem.places[0]!.open!;
  expect(open.map(({ from, to }) => [iso(from), iso(to)]).slice(0, 1)).toEqual([
    ['2026-05-31T22:00', '2026-06-01T22:00'],
  ]);
  expect(iso(open[1]!.from)).toBe('2026-06-02T22:00');
});

it('a car whose inspection failed after it was moved on goes back to where it can be inspected again', () => {
  const recipe = aRecipe({
    stays: [
      { key: 'coat', needs: ['coating'], optional: false },
      { key: 'ready', needs: ['hold'], optional: false },
    ],
    steps: [
      aStep('wipe', 'panelWipe', 'coat', 20, { skill: 'coating' }),
      aStep('look', 'finalInspection', 'coat', 20, { skill: 'intake' }),
      aStep('handover', 'handover', 'ready', 30, { skill: 'intake' }),
    ],
    lags: [],
    airSpans: [],
    stills: [{ from: { step: 'wipe', edge: 'start' }, to: { step: 'look', edge: 'start' } }],
  });
  const facts: readonly Happening[] = [
    ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'coatBay' }],
    ['2026-06-01T06:00Z', { kind: 'started', operation: 'wipe', by: ['bo'] }],
    ['2026-06-01T06:20Z', { kind: 'finished', operation: 'wipe' }],
    ['2026-06-01T06:30Z', { kind: 'started', operation: 'look', by: ['ada'] }],
    ['2026-06-01T06:50Z', { kind: 'finished', operation: 'look' }],
    ['2026-06-01T06:50Z', { kind: 'failedFinalInspection', reworkMinutes: 30, note: '' }],
    ['2026-06-01T07:00Z', { kind: 'moved', placeId: 'space' }],
    ['2026-06-01T07:00Z', { kind: 'started', operation: 'rework', by: ['bo'] }],
    ['2026-06-01T07:30Z', { kind: 'finished', operation: 'rework' }],
  ];
  const { stays, operation } = staysOf(facts, { recipes: [recipe] });
  const again = stays[operation('look.2').stay!];
  expect(stays[0]!.fixed).toBe('space');
  expect(again).toEqual({ places: ['coatBay'], optional: false, fixed: undefined });
});

it("two cars that want each other's place swap by way of a third", () => {
  const recipe = (id: string, first: string, second: string) =>
    aRecipe({
      id,
      stays: [
        { key: 'one', needs: [first], optional: false },
        { key: 'two', needs: [second], optional: false },
      ],
      steps: [
        aStep('intake', 'intake', 'one', 30, { skill: 'intake' }),
        aStep('handover', 'handover', 'two', 30, { skill: 'intake' }),
      ],
      lags: [],
      airSpans: [],
      stills: [],
    });
  const come = (id: string, placeId: string) =>
    floorOf(
      id,
      ['2026-06-01T06:00Z', { kind: 'arrived', placeId }],
      ['2026-06-01T06:00Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
      ['2026-06-01T06:30Z', { kind: 'finished', operation: 'intake' }],
    );
  const { problem, leftOut, people } = formulate(
    smallShop({
      now: at('2026-06-01T07:00Z'),
      recipes: [recipe('washFirst', 'wet', 'coating'), recipe('coatFirst', 'coating', 'wet')],
      jobs: [aJob('washFirst', { id: 'a', state: 'inShop' }), aJob('coatFirst', { id: 'b', state: 'inShop' })],
      events: [...come('a', 'wetBay'), ...come('b', 'coatBay')],
    }),
  );
  expect(leftOut).toEqual([]);
  // By hand: from minute 540 (07:00Z) Bo drives a to the space, b to the wet bay once it has been free for its 15 minutes of
  // turnaround, then a to the coat bay; Ada hands over b, then a. In the problem's order: moves before work, a before b.
  const by = (start: number, end: number, mode = 0) => ({ start, end, mode });
  const schedule: Schedule = {
    operations: [
      ...[by(540, 550, driver('bo')), by(570, 580, driver('bo')), by(480, 510), by(595, 625)],
      ...[null, by(555, 565, driver('bo')), by(480, 510), by(565, 595)],
    ],
    stays: [
      ...[
        { place: 0, from: 480, to: 550 },
        { place: 2, from: 550, to: 580 },
        { place: 1, from: 580, to: 625 },
      ],
      ...[{ place: 1, from: 480, to: 565 }, null, { place: 0, from: 565, to: 595 }],
    ],
  };
  expect(validate(problem)).toEqual([]);
  expect(check(problem, schedule)).toEqual([]);

  function driver(id: string): number {
    return problem.operations[0]!.modes.findIndex(({ uses }) => people[uses[0]!.resource] === id);
  }
});
