import { describe, expect, it } from 'vitest';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { aJob, at, floor, type Happening } from './a-job.ts';
import { ada, aPerson, aRecipe, aStep, bo, reader, smallShop, unattended } from './small-shop.ts';

const arrived: Happening = ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'wetBay' }];
const intakeDone: readonly Happening[] = [
  arrived,
  ['2026-06-01T06:00Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
  ['2026-06-01T06:30Z', { kind: 'finished', operation: 'intake' }],
];

function written(now: string, facts: readonly Happening[], given: Partial<Book> = {}) {
  const events = floor(...facts);
  const formulation = formulate(
    smallShop({ now: at(now), jobs: [aJob('small', { state: 'inShop' })], events, ...given }),
  );
  expect(formulation.leftOut).toEqual([]);
  const read = reader(formulation);
  const spanOf = (key: string) => {
    const { start, end } = read.operation(key).fixed!;
    return `${read.iso(start).slice(11)}-${read.iso(end!).slice(11)}`;
  };
  return { formulation, spanOf, ...read };
}

describe('work that is done', () => {
  it('is a fact from its start to its end by who did it, whether or not he may', () => {
    // Ada has no skill for washing, but she did it.
    const { spanOf, operation, formulation } = written('2026-06-01T08:00Z', [
      ...intakeDone,
      ['2026-06-01T06:35Z', { kind: 'started', operation: 'wash', by: ['ada'] }],
      ['2026-06-01T07:50Z', { kind: 'finished', operation: 'wash' }],
    ]);
    expect(spanOf('wash')).toBe('06:35-07:50');
    const [use] = operation('wash').modes[0]!.uses;
    expect(formulation.people[use!.resource]).toBe('ada');
  });

  it('demands nothing of lags that lead to it', () => {
    const { formulation } = written('2026-06-01T08:00Z', intakeDone);
    const facts = formulation.problem.lags.filter(
      ({ to }) => formulation.problem.operations[to.operation]!.fixed?.by === 'fact',
    );
    expect(facts).toEqual([]);
  });
});

describe('work under way', () => {
  const washing: readonly Happening[] = [
    ...intakeDone,
    ['2026-06-01T06:40Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
  ];

  it('is counted to end when its hour is over', () => {
    const { spanOf, formulation } = written('2026-06-01T07:00Z', washing);
    expect(spanOf('wash')).toBe('06:40-07:40');
    expect(formulation.notices).toEqual([]);
  });

  it('that has outlasted its time gets a tenth of it more, at least ten minutes, and the desk is told', () => {
    const { spanOf, formulation } = written('2026-06-01T08:00Z', washing);
    expect(spanOf('wash')).toBe('06:40-08:10');
    expect(formulation.notices.map(({ kind, operation }) => [kind, operation])).toEqual([['overrun', 'wash']]);
  });
});

describe('work interrupted', () => {
  const interrupted: readonly Happening[] = [
    ...intakeDone,
    ['2026-06-01T06:40Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
    ['2026-06-01T07:00Z', { kind: 'interrupted', operation: 'wash', reason: 'power cut' }],
  ];

  it('leaves its remainder to be planned: 20 of 60 minutes done, 40 to do', () => {
    const { spanOf, operation, lags } = written('2026-06-01T07:30Z', interrupted);
    expect(spanOf('wash')).toBe('06:40-07:00');
    expect(operation('wash.rest')).toMatchObject({ presence: 'always', modes: [{ work: 40 }] });
    // What comes after waits for the remainder.
    expect(lags('wash.rest', 'wipe')).toMatchObject([{ from: { edge: 'end' }, min: 0 }]);
  });

  it('and taken up again is counted to end after the remainder', () => {
    const { spanOf } = written('2026-06-01T07:45Z', [
      ...interrupted,
      ['2026-06-01T07:40Z', { kind: 'resumed', operation: 'wash' }],
    ]);
    expect(spanOf('wash.rest')).toBe('07:40-08:20');
  });

  it('is done at a pace: at 50 % a half hour does a quarter of an hour of norm work', () => {
    // Recipe minutes are as stated, work content is at a pace; blow drying by the norm is paced.
    const slow = bo({ pacePercent: 50 });
    const recipe = aRecipe({
      steps: aRecipe().steps.map((step) =>
        step.key === 'wash' ? { ...step, kind: 'handover', duration: { by: 'workContent' } } : step,
      ),
    });
    const { operation } = written(
      '2026-06-01T07:45Z',
      [
        ...intakeDone,
        ['2026-06-01T06:40Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
        ['2026-06-01T07:10Z', { kind: 'interrupted', operation: 'wash', reason: 'power cut' }],
      ],
      { technicians: [ada(), slow], recipes: [recipe] },
    );
    // The norm says 38 minutes; 30 minutes at 50 % are 15 of them; 23 are left and take 46.
    expect(operation('wash.rest').modes.map(({ work }) => work)).toEqual([46]);
  });
});

it('work handed over goes on with the next person for what is left', () => {
  const cy = aPerson('cy', ['driving']);
  const { spanOf, operation, formulation } = written(
    '2026-06-01T07:10Z',
    [
      ...intakeDone,
      ['2026-06-01T06:40Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
      ['2026-06-01T07:00Z', { kind: 'handedOver', operation: 'wash', to: ['cy'] }],
    ],
    { technicians: [ada(), bo(), cy] },
  );
  expect(spanOf('wash')).toBe('06:40-07:00');
  expect(spanOf('wash.rest')).toBe('07:00-07:40');
  expect(operation('wash.rest').modes[0]!.uses.map(({ resource }) => formulation.people[resource])).toEqual(['cy']);
});

describe('work handed over while it rests', () => {
  const resting: readonly Happening[] = [
    ...intakeDone,
    ['2026-06-01T06:40Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
    ['2026-06-01T07:00Z', { kind: 'interrupted', operation: 'wash', reason: 'power cut' }],
    ['2026-06-01T07:05Z', { kind: 'handedOver', operation: 'wash.rest', to: ['ada'] }],
  ];
  const crews = ({ operation, formulation }: ReturnType<typeof written>) =>
    operation('wash.rest').modes.map(({ uses }) => uses.map(({ resource }) => formulation.people[resource]).join('+'));

  it('is planned for the one it was handed to', () => {
    expect(crews(written('2026-06-01T07:10Z', resting))).toEqual(['ada']);
  });

  it('is planned for whoever can when that one is off, and the desk is told', () => {
    const off = ada({ shifts: {} });
    const cy = aPerson('cy', ['intake', 'inspection', 'coating', 'driving'], { certificates: ada().certificates });
    const result = written('2026-06-01T07:10Z', resting, { technicians: [off, bo(), cy] });
    expect(crews(result)).toEqual(['bo']);
    expect(result.formulation.notices.map(({ kind }) => kind)).toEqual(['personAbsent']);
  });
});

it('work given up counts as ended and leaves nothing to do', () => {
  const { spanOf, keys } = written('2026-06-01T08:00Z', [
    ...intakeDone,
    ['2026-06-01T06:40Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
    ['2026-06-01T07:00Z', { kind: 'abandoned', operation: 'wash', reason: 'washer broke' }],
  ]);
  expect(spanOf('wash')).toBe('06:40-07:00');
  expect(keys).not.toContain('wash.rest');
});

it('a step passed over counts as done when the next began, so that safe times still run from it', () => {
  const { spanOf, formulation } = written('2026-06-01T09:00Z', [
    ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'coatBay' }],
    ['2026-06-01T06:00Z', { kind: 'started', operation: 'wipe', by: ['ada'] }],
    ['2026-06-01T06:30Z', { kind: 'finished', operation: 'wipe' }],
    ['2026-06-01T06:30Z', { kind: 'started', operation: 'coat', by: ['ada'] }],
  ]);
  expect(spanOf('intake')).toBe('06:00-06:00');
  expect(spanOf('wash')).toBe('06:00-06:00');
  expect(formulation.notices.filter(({ kind }) => kind === 'passedOver')).toHaveLength(2);
});

it('unattended work begins by itself when the work before it has ended, and runs on', () => {
  const steps = aRecipe().steps.flatMap((step) =>
    step.key === 'wash' ? [step, aStep('dryOut', 'dryOut', 'wash', 45, unattended)] : [step],
  );
  const { spanOf } = written(
    '2026-06-01T07:50Z',
    [
      ...intakeDone,
      ['2026-06-01T06:30Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
      ['2026-06-01T07:30Z', { kind: 'finished', operation: 'wash' }],
    ],
    { recipes: [aRecipe({ steps })] },
  );
  expect(spanOf('dryOut')).toBe('07:30-08:15');
});

it('a final inspection that failed brings rework and another inspection before the handover', () => {
  const { keys, operation, lags } = written('2026-06-02T08:00Z', [
    ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'coatBay' }],
    ['2026-06-01T07:00Z', { kind: 'started', operation: 'coat', by: ['ada'] }],
    ['2026-06-01T08:00Z', { kind: 'finished', operation: 'coat' }],
    ['2026-06-02T07:00Z', { kind: 'started', operation: 'finalInspection', by: ['ada'] }],
    ['2026-06-02T07:15Z', { kind: 'failedFinalInspection', reworkMinutes: 50, note: 'a high spot' }],
  ]);
  expect(operation('rework').modes[0]!.work).toBe(50);
  expect(operation('finalInspection').fixed!.by).toBe('fact');
  expect(lags('rework', 'finalInspection.2')).toHaveLength(1);
  expect(lags('finalInspection.2', 'handover')).toHaveLength(1);
  expect(keys).not.toContain('finalInspection.3');
});
