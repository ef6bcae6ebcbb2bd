import { describe, expect, it } from 'vitest';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { aJob } from './a-job.ts';
import { aLag, aRecipe, aStep, reader, smallShop, unattended } from './small-shop.ts';

const last = aStep('handover', 'handover', 'coat', 30, { skill: 'intake' });

function linksOf(steps: unknown[], lags: unknown[], branches: unknown[] = []): string[] {
  const recipe = aRecipe({ steps, lags, branches, airSpans: [], stills: [] });
  const formulation = formulate(smallShop({ recipes: [recipe], jobs: [aJob('small')] }));
  expect(formulation.leftOut).toEqual([]);
  const { problem, operations } = formulation;
  return problem.lags.map(
    ({ from, to, min }) =>
      `${operations[from.operation]!.key} ${from.edge} > ${operations[to.operation]!.key} ${to.edge} +${min}`,
  );
}

describe('the order of a recipe', () => {
  it('without lags is a chain', () => {
    const steps = [
      aStep('intake', 'intake', 'wash', 30, { skill: 'intake' }),
      aStep('wash', 'contactWash', 'wash', 60, { skill: 'wash' }),
      last,
    ];
    expect(linksOf(steps, [])).toEqual(['intake end > wash start +0', 'wash end > handover start +0']);
  });

  it('lets two neighbours overlap that are linked by their starts, and the step after them waits for both', () => {
    const steps = [
      aStep('intake', 'intake', 'wash', 30, { skill: 'intake' }),
      aStep('dryOut', 'dryOut', 'wash', 45, unattended),
      aStep('wash', 'contactWash', 'wash', 60, { skill: 'wash' }),
      last,
    ];
    expect(linksOf(steps, [aLag('dryOut start', 'wash start', 5)]).sort()).toEqual([
      'dryOut end > handover start +0',
      'dryOut start > wash start +5',
      'intake end > dryOut start +0',
      'wash end > handover start +0',
    ]);
  });

  it('sets the alternatives of a branch side by side', () => {
    const branch = { presence: { when: 'branch' } };
    const steps = [
      aStep('intake', 'intake', 'wash', 30, { skill: 'intake' }),
      aStep('waitA', 'dryOut', 'wash', 45, { ...unattended, ...branch }),
      aStep('workB', 'contactWash', 'wash', 20, { skill: 'wash', ...branch }),
      last,
    ];
    expect(linksOf(steps, [], [{ name: 'either', alternatives: [['waitA'], ['workB']] }]).sort()).toEqual([
      'intake end > waitA start +0',
      'intake end > workB start +0',
      'waitA end > handover start +0',
      'workB end > handover start +0',
    ]);
  });

  it('closes over a step that a car does not have', () => {
    const steps = [
      aStep('intake', 'intake', 'wash', 30, { skill: 'intake' }),
      aStep('minerals', 'mineralRemover', 'wash', 15, { skill: 'wash', presence: { when: 'minerals' } }),
      last,
    ];
    const lags = [aLag('intake end', 'minerals start', 5), aLag('minerals end', 'handover start', 5)];
    expect(linksOf(steps, lags)).toEqual(['intake end > handover start +0']);
  });
});

it('every operation of a seed-like chain can be reached from the first', () => {
  const formulation = formulate(smallShop({ jobs: [aJob('small')] }));
  const { index } = reader(formulation);
  const after = new Map<number, number[]>();
  for (const { from, to } of formulation.problem.lags) {
    after.set(from.operation, [...(after.get(from.operation) ?? []), to.operation]);
  }
  const reached = new Set([index('intake')]);
  for (const operation of reached) for (const next of after.get(operation) ?? []) reached.add(next);
  const floating = formulation.operations.filter(({ role }, k) => role !== 'move' && !reached.has(k));
  expect(floating).toEqual([]);
});
