import { describe, expect, it } from 'vitest';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { mostCrews } from '../../../src/trade/formulate/crews.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { Equipment } from '../../../src/trade/model/equipment.ts';
import { aJob } from './a-job.ts';
import { ada, aPerson, aRecipe, bo, reader, smallShop, weekdays } from './small-shop.ts';

function modesOf(key: string, given: Partial<Book> = {}) {
  const formulation = formulate(smallShop({ jobs: [aJob('small')], ...given }));
  expect(formulation.leftOut).toEqual([]);
  const { problem, people } = formulation;
  const read = reader(formulation);
  return {
    problem,
    ...read,
    modes: read.operation(key).modes,
    crews: read.operation(key).modes.map(({ uses }) =>
      uses
        .map(({ resource }) => people[resource])
        .filter((id) => id !== null)
        .join('+'),
    ),
  };
}

const withStep = (key: string, change: object) =>
  aRecipe({ steps: aRecipe().steps.map((step) => (step.key === key ? { ...step, ...change } : step)) });

describe('who may do it', () => {
  it('is who has the skill at the level', () => {
    const novice = aPerson('cy', [], { skills: [{ skill: 'wash', level: 1 }] });
    const recipe = withStep('wash', {
      crew: { size: 1, skill: 'wash', level: 2, certified: false, leadPreferred: false },
    });
    expect(modesOf('wash', { technicians: [ada(), bo(), novice], recipes: [recipe] }).crews).toEqual(['bo']);
  });

  it('for a coat is who has a certificate that has not expired, and only until it does', () => {
    const expired = aPerson('cy', ['coating'], { certificates: [{ coatingId: 'coatX', expiresOn: '2026-05-31' }] });
    const expiring = aPerson('di', ['coating'], { certificates: [{ coatingId: 'coatX', expiresOn: '2026-06-03' }] });
    const { crews, modes, minute } = modesOf('coat', { technicians: [ada(), bo(), expired, expiring] });
    expect(crews).toEqual(['di', 'ada']);
    // Valid through 3 June, that is until midnight in Berlin.
    expect(modes[0]!.allowed).toEqual([{ from: 0, to: minute('2026-06-03T22:00Z') }]);
    expect(modes[1]!.allowed).toBeUndefined();
  });

  it('ranks the lead first where the recipe would rather have the lead, and last where not', () => {
    const technicians = [ada({ skills: [...ada().skills, { skill: 'wash', level: 2 }] }), bo()];
    expect(modesOf('wash', { technicians }).crews).toEqual(['bo', 'ada']);
    const recipe = withStep('wash', {
      crew: { size: 1, skill: 'wash', level: 1, certified: false, leadPreferred: true },
    });
    expect(modesOf('wash', { technicians, recipes: [recipe] }).crews).toEqual(['ada', 'bo']);
  });

  it('is at most a dozen crews, in which everybody who may has a part', () => {
    const many = Array.from({ length: 9 }, (_, k) => aPerson(`w${k}`, ['wash']));
    const recipe = withStep('wash', {
      crew: { size: 2, skill: 'wash', level: 1, certified: false, leadPreferred: false },
    });
    const { crews } = modesOf('wash', { technicians: [ada(), bo(), ...many], recipes: [recipe] });
    expect(crews).toHaveLength(mostCrews);
    expect(new Set(crews).size).toBe(mostCrews);
    expect(new Set(crews.flatMap((crew) => crew.split('+'))).size).toBe(10);
  });

  it('is a part of them for each job where they are more than a dozen, and everybody is asked by some job', () => {
    const washers = Array.from({ length: 30 }, (_, k) => aPerson(`w${k}`, ['wash']));
    const jobs = Array.from({ length: 40 }, (_, k) => aJob('small', { id: `job${k}` }));
    const { problem, people } = formulate(smallShop({ technicians: [ada(), bo(), ...washers], jobs }));
    const asked = problem.operations
      .filter(({ name }) => name.includes('wash'))
      .map(({ modes }) => new Set(modes.map(({ uses }) => people[uses[0]!.resource])));
    expect(asked).toHaveLength(40);
    for (const some of asked) expect(some.size).toBeLessThanOrEqual(mostCrews);
    expect(new Set(asked.flatMap((some) => [...some]))).toEqual(new Set(['bo', ...washers.map(({ id }) => id)]));
  });

  it('works in the hours that all of a crew have in common', () => {
    const late = aPerson('cy', ['wash'], { shifts: weekdays([{ from: '10:00', to: '19:00' }]) });
    const recipe = withStep('wash', {
      crew: { size: 2, skill: 'wash', level: 1, certified: false, leadPreferred: false },
    });
    const { modes, problem, minute } = modesOf('wash', { technicians: [ada(), bo(), late], recipes: [recipe] });
    const { at, rate } = problem.progresses[modes[0]!.progress!]!;
    expect(at.slice(0, 4)).toEqual(['08:00', '10:00', '10:30', '15:00'].map((time) => minute(`2026-06-01T${time}Z`)));
    expect(rate.slice(0, 4)).toEqual([1, 0, 1, 0]);
  });
});

it('overtime is a way of its own, and only where it has been authorised', () => {
  expect(modesOf('wash').modes).toHaveLength(1);
  const keen = bo({ exceptions: [{ date: '2026-06-01', kind: 'overtime', parts: [{ from: '17:00', to: '19:00' }] }] });
  const { modes, problem, minute } = modesOf('wash', { technicians: [ada(), keen] });
  expect(modes).toHaveLength(2);
  expect(problem.resources[1]!.overtime).toEqual([
    { from: minute('2026-06-01T15:00Z'), to: minute('2026-06-01T17:00Z') },
  ]);
  const openAt = (mode: number) => problem.progresses[modes[mode]!.progress!]!.at[3];
  expect([openAt(0), openAt(1)]).toEqual([minute('2026-06-01T15:00Z'), minute('2026-06-01T17:00Z')]);
});

it('watching takes the stated share of a person', () => {
  const recipe = withStep('wash', { attendance: { kind: 'watched', sharePercent: 40 } });
  expect(modesOf('wash', { recipes: [recipe] }).modes[0]!.uses).toEqual([{ resource: 1, amount: 40 }]);
});

it('machine polishing draws on the budget of the person and the day', () => {
  const recipe = withStep('wash', {
    kind: 'finishPolish',
    crew: { size: 1, skill: 'polishing', level: 1, certified: false, leadPreferred: false },
  });
  const { modes, problem } = modesOf('wash', { recipes: [recipe] });
  const budget = problem.budgets[modes[0]!.budget!]!;
  expect(budget.name).toContain('bo');
  expect(budget.limit).toBe(300);
  expect(budget.windows.every(({ from, to }) => to - from === 24 * 60)).toBe(true);
});

describe('equipment', () => {
  const washer = { id: 'washer', name: 'washer', kind: 'pressureWasher', count: 1, outOfOrder: false };
  const recipe = withStep('wash', { equipment: [{ kind: 'pressureWasher', count: 1 }] });

  it('fixed in a zone keeps the work in it', () => {
    const places = smallShop().places.map((place) =>
      place.id === 'coatBay'
        ? { ...place, capabilities: [...place.capabilities, 'wet' as const], airZoneId: null }
        : place,
    );
    const equipment = [Equipment.parse({ ...washer, airZoneId: 'hall' })];
    const { modes } = modesOf('wash', { recipes: [recipe], equipment, places });
    expect(modes.map(({ places: where }) => where)).toEqual([[0]]);
    expect(modes[0]!.uses).toContainEqual({ resource: 2, amount: 1 });
  });

  it('of one kind is one resource, what is out of order not counted', () => {
    const equipment = [
      Equipment.parse({ ...washer, airZoneId: null, count: 2 }),
      Equipment.parse({ ...washer, id: 'washer2', airZoneId: null }),
      Equipment.parse({ ...washer, id: 'washer3', airZoneId: null, outOfOrder: true }),
    ];
    const { problem } = modesOf('wash', { recipes: [recipe], equipment });
    expect(problem.resources.filter(({ kind }) => kind === 'equipment')).toEqual([
      { name: 'pressureWasher', capacity: 3, kind: 'equipment' },
    ]);
  });
});

describe('a job that cannot be done at all is left out with the field at fault', () => {
  const leftOut = (given: Partial<Book>, job: object = {}) =>
    formulate(smallShop({ jobs: [aJob('small', job)], ...given })).leftOut;

  it('when nobody may do it', () => {
    expect(leftOut({ technicians: [ada()] })).toMatchObject([
      { field: 'technicians', reason: expect.stringContaining('wash') },
    ]);
  });

  it('when unpausable work is longer than anybody works at a stretch', () => {
    const recipes = [withStep('wash', { duration: { by: 'minutes', minutes: 271 } })];
    expect(leftOut({ recipes })).toMatchObject([
      { field: 'technicians', reason: expect.stringContaining('270 minutes') },
    ]);
    const pausable = [withStep('wash', { duration: { by: 'minutes', minutes: 271 }, pausable: true })];
    expect(leftOut({ recipes: pausable })).toEqual([]);
  });

  it('when the car fits in nowhere', () => {
    const { vehicle } = aJob('small');
    expect(leftOut({}, { vehicle: { ...vehicle, lengthMm: 5600 } })).toMatchObject([
      { field: 'vehicle', reason: expect.stringContaining('5600 mm long') },
    ]);
  });

  it('when its equipment is out of order', () => {
    const recipes = [withStep('wash', { equipment: [{ kind: 'pressureWasher', count: 1 }] })];
    expect(leftOut({ recipes })).toMatchObject([{ field: 'equipment' }]);
  });

  it('when there is no such recipe', () => {
    const { leftOut: out } = formulate(smallShop({ jobs: [aJob('none')] }));
    expect(out).toEqual([{ jobId: 'job1', field: 'recipeId', reason: 'There is no recipe "none".' }]);
  });
});
