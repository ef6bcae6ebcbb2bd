import { expect, it } from 'vitest';
import { workedPieces } from '../../../src/engine/check/worked-pieces.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { workedStretches } from '../../../src/trade/formulate/worked-stretches.ts';
import { aJob } from './a-job.ts';
import { aRecipe, reader, smallShop } from './small-shop.ts';

const polishing = aRecipe({
  steps: aRecipe().steps.map((step) =>
    step.key === 'wash'
      ? {
          ...step,
          kind: 'compound',
          duration: { by: 'minutes', minutes: 400 },
          pausable: true,
          crew: { ...step.crew, skill: 'polishing' },
        }
      : step,
  ),
  corrects: true,
});

it("polishing beyond the day's limit of 300 minutes goes on the next morning", () => {
  const formulation = formulate(smallShop({ recipes: [polishing], jobs: [aJob('small')] }));
  const { operation, minute, iso } = reader(formulation);
  const [mode] = operation('wash').modes;
  // From 06:30Z: 210 minutes to lunch at 10:00Z, 90 from 10:30Z, and 100 from 06:00Z the next day.
  const [start, end] = [minute('2026-06-01T06:30Z'), minute('2026-06-02T07:40Z')];
  const worked = workedStretches(formulation.problem, mode!, start, end);
  expect(worked.map(({ from, to }) => `${iso(from)} ${to - from}`)).toEqual([
    '2026-06-01T06:30 210',
    '2026-06-01T10:30 90',
    '2026-06-02T06:00 100',
  ]);
  expect(worked).toEqual(workedPieces(formulation.problem, mode!, start, end));
});

it('what is shown of a plan is what the checker counts, for every mode', () => {
  const { problem } = formulate(smallShop({ recipes: [polishing], jobs: [aJob('small')] }));
  for (const { modes } of problem.operations) {
    for (const mode of modes) {
      if (mode.work === 0) continue;
      for (const start of [problem.now, problem.now + 137, problem.now + 1000]) {
        const end = start + 2000;
        expect(workedStretches(problem, mode, start, end)).toEqual(workedPieces(problem, mode, start, end));
      }
    }
  }
});
