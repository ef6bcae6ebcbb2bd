import { describe, expect, it } from 'vitest';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { aJob, at, floor } from './a-job.ts';
import { aLag, aRecipe, aStep, reader, smallShop, unattended } from './small-shop.ts';

describe('a window that is counted from when a car has dried', () => {
  const dried = aRecipe({
    steps: aRecipe().steps.flatMap((step) =>
      step.key === 'wash' ? [step, aStep('dryOut', 'dryOut', 'wash', 45, unattended)] : [step],
    ),
    lags: [...aRecipe().lags, aLag('dryOut end', 'wipe start', 0, 600)],
  });
  const windowsTo = (given: object) => {
    const formulation = formulate(smallShop({ recipes: [dried], jobs: [aJob('small')], ...given }));
    const { lags } = reader(formulation);
    return { fromWash: lags('wash', 'wipe'), fromDrying: lags('dryOut', 'wipe') };
  };

  it('ends when it does if the car begins to dry by itself: a plan keeps it open by no later beginning', () => {
    const { fromWash, fromDrying } = windowsTo({});
    expect(fromWash).toEqual([expect.objectContaining({ max: 600 + 45 })]);
    expect(fromDrying.map(({ min, max }) => [min, max])).toEqual([[0, undefined]]);
  });

  it('is counted from there once the car dries', () => {
    const events = floor(
      ['2026-06-01T06:00Z', { kind: 'arrived', placeId: 'wetBay' }],
      ['2026-06-01T06:00Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
      ['2026-06-01T06:30Z', { kind: 'finished', operation: 'intake' }],
      ['2026-06-01T06:30Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
      ['2026-06-01T07:30Z', { kind: 'finished', operation: 'wash' }],
    );
    const { fromWash, fromDrying } = windowsTo({
      jobs: [aJob('small', { state: 'inShop' })],
      events,
      now: at('2026-06-01T07:40Z'),
    });
    expect(fromWash).toEqual([]);
    expect(fromDrying).toEqual([expect.objectContaining({ max: 600 })]);
  });
});
