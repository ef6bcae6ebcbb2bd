import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { readPlan } from '../../../src/trade/formulate/read-plan.ts';
import { aJob, at, floor, type Happening } from './a-job.ts';
import { aLag, aRecipe, reader, smallShop } from './small-shop.ts';

const upToTheWipe: readonly Happening[] = [
  ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'wetBay' }],
  ['2026-06-01T06:00Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
  ['2026-06-01T06:30Z', { kind: 'finished', operation: 'intake' }],
  ['2026-06-01T06:30Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
  ['2026-06-01T07:30Z', { kind: 'finished', operation: 'wash' }],
  ['2026-06-01T07:40Z', { kind: 'moved', placeId: 'coatBay' }],
  ['2026-06-01T07:40Z', { kind: 'started', operation: 'wipe', by: ['ada'] }],
  ['2026-06-01T08:10Z', { kind: 'finished', operation: 'wipe' }],
];

function planAt(now: string, more: readonly Happening[] = [], given: Partial<Book> = {}) {
  const events = floor(...upToTheWipe, ...more);
  const formulation = formulate(
    smallShop({ now: at(now), jobs: [aJob('small', { state: 'inShop' })], events, ...given }),
  );
  expect(formulation.leftOut).toEqual([]);
  expect(validate(formulation.problem)).toEqual([]);
  const { schedule } = solve(formulation.problem, { seed: 1, workLimit: 5_000 });
  expect(check(formulation.problem, schedule!)).toEqual([]);
  const meta = { version: 1, madeAt: at(now), reason: '', objective: [], seed: 1, interrupted: false };
  const plan = readPlan(formulation, schedule!, meta);
  const planned = (key: string) => plan.operations.find(({ operation }) => operation === key);
  return { formulation, planned, ...reader(formulation) };
}

describe('a wipe that is good for an hour', () => {
  it('is not done again while its hour has not run out, and says when it does', () => {
    // Wiped by 08:10Z: the coat must start by 09:10Z.
    const { planned, formulation } = planAt('2026-06-01T08:40Z');
    expect(planned('rewipe')).toBeUndefined();
    expect(planned('coat')!.start).toBe(at('2026-06-01T08:40Z'));
    expect(planned('coat')!.windowClosesAt).toBe(at('2026-06-01T09:10Z'));
    expect(formulation.notices).toEqual([]);
  });

  it('that has gone stale is done again before coating', () => {
    const { planned, formulation, lags } = planAt('2026-06-01T09:30Z');
    expect(planned('rewipe')).toMatchObject({ remedy: true, start: at('2026-06-01T09:30Z') });
    // 20 minutes of wiping, then an hour of coating that lunch at 10:00Z would cut off: it waits for 10:30Z.
    expect(planned('coat')!.start).toBe(at('2026-06-01T10:30Z'));
    expect(planned('coat')!.windowClosesAt).toBe(at('2026-06-01T10:50Z'));
    expect(formulation.notices.map(({ kind }) => kind)).toEqual(['lapsedWindow']);
    // The lapsed maximum binds no more; the repeated wipe's does.
    expect(lags('wipe', 'coat').map(({ max }) => max)).toEqual([undefined]);
    expect(lags('rewipe', 'coat').map(({ max }) => max)).toEqual([60]);
  });

  it('that was done again and went stale again is done a third time', () => {
    const { planned, keys } = planAt('2026-06-01T13:00Z', [
      ['2026-06-01T09:30Z', { kind: 'started', operation: 'rewipe', by: ['ada'] }],
      ['2026-06-01T09:50Z', { kind: 'finished', operation: 'rewipe' }],
    ]);
    expect(planned('rewipe')!.state).toBe('finished');
    expect(planned('rewipe.2')).toMatchObject({ state: 'planned', start: at('2026-06-01T13:00Z') });
    expect(planned('coat')!.start).toBeGreaterThanOrEqual(at('2026-06-01T13:20Z'));
    expect(keys).not.toContain('rewipe.3');
  });

  it('no longer matters once the coat has begun, however late', () => {
    const { planned, keys } = planAt('2026-06-01T10:00Z', [
      ['2026-06-01T09:45Z', { kind: 'started', operation: 'coat', by: ['ada'] }],
    ]);
    expect(keys).not.toContain('rewipe');
    expect(planned('coat')!.state).toBe('underWay');
  });

  it('whose recipe knows no remedy does not stop the plan when it has lapsed', () => {
    const recipe = aRecipe({ lags: [aLag('wipe end', 'coat start', 0, 60)] });
    const { planned, formulation } = planAt('2026-06-01T09:30Z', [], { recipes: [recipe] });
    expect(planned('coat')).toBeDefined();
    expect(formulation.notices[0]!.text).toContain('no remedy');
  });
});

it('the plan itself may let the hour lapse only with the remedy', () => {
  const formulation = formulate(smallShop({ jobs: [aJob('small')] }));
  const { lags, index, operation } = reader(formulation);
  expect(lags('wipe', 'coat')).toMatchObject([{ min: 0, max: 60, remedy: [index('rewipe')] }]);
  expect(operation('rewipe').presence).toBe('optional');
});
