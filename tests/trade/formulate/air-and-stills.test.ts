import { describe, expect, it } from 'vitest';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { aJob } from './a-job.ts';
import { aRecipe, reader, smallShop } from './small-shop.ts';

function airOf(recipe: ReturnType<typeof aRecipe>) {
  const formulation = formulate(smallShop({ recipes: [recipe], jobs: [aJob('small')] }));
  expect(formulation.leftOut).toEqual([]);
  const { problem, operations } = formulation;
  const edge = ({ operation, edge: which }: { operation: number; edge: string }) =>
    `${operations[operation]!.key} ${which}`;
  return {
    ...reader(formulation),
    problem,
    spans: problem.airSpans.map(
      ({ label, stay, from, to }) => `${problem.airLabels[label]} in ${stay}: ${edge(from)} to ${edge(to)}`,
    ),
    stills: problem.stills.map(({ from, to }) => `${edge(from)} to ${edge(to)}`),
  };
}

describe('what work does to the air', () => {
  it('is a span of the place it is done in, from its start to its end', () => {
    const steps = aRecipe().steps.map((step) => (step.key === 'wash' ? { ...step, air: ['mist' as const] } : step));
    expect(airOf(aRecipe({ steps })).spans).toContain('mist in 0: wash start to wash end');
  });

  it('may last over several steps', () => {
    expect(airOf(aRecipe()).spans).toEqual(['openCoating in 1: wipe start to cure end']);
  });

  it('goes along with the car: in the next place it begins with the first work there', () => {
    const stays = [...aRecipe().stays, { key: 'rest', needs: ['curing'], optional: false }];
    const steps = aRecipe().steps.map((step) =>
      ['cure', 'finalInspection', 'handover'].includes(step.key) ? { ...step, stay: 'rest' } : step,
    );
    expect(airOf(aRecipe({ stays, steps, stills: [] })).spans).toEqual([
      'openCoating in 1: wipe start to cure end',
      'openCoating in 2: cure start to cure end',
    ]);
  });

  it('is nothing for a span whose steps the car does not have', () => {
    const spans = [{ label: 'vapour', from: { step: 'wipe', edge: 'start' }, to: { step: 'rewipe', edge: 'end' } }];
    expect(airOf(aRecipe({ airSpans: spans })).spans).toEqual([]);
  });
});

it('a coated car is not moved from the wipe until the recipe says so', () => {
  expect(airOf(aRecipe()).stills).toEqual(['wipe start to cure end']);
});

it('of two rules for the air only the one that forbids is a rule of the plan', () => {
  const { problem } = airOf(aRecipe());
  const [dust, openCoating] = ['dust', 'openCoating'].map((label) => problem.airLabels.indexOf(label));
  expect(problem.airExclusions).toEqual([
    { zone: 0, first: dust, second: openCoating, settleAfterFirst: 60, settleAfterSecond: 0 },
  ]);
});
