import { describe, expect, it } from 'vitest';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { PanelName } from '../../../src/trade/model/vehicle.ts';
import { commonNorms } from '../../../src/trade/work-content/common-norms.ts';
import { aJob, at } from './a-job.ts';
import { aRecipe, aStep, reader, smallShop, unattended } from './small-shop.ts';

const polisher = { crew: { size: 1, skill: 'polishing', level: 1, certified: false, leadPreferred: false } };
const byWork = { duration: { by: 'workContent' } };

const correcting = aRecipe({
  corrects: true,
  stays: [
    { key: 'wash', needs: ['wet'], optional: false },
    { key: 'correct', needs: ['correction'], optional: false },
    { key: 'cabin', needs: ['correction'], optional: true },
  ],
  steps: [
    aStep('intake', 'intake', 'wash', 30, { skill: 'intake' }),
    aStep('minerals', 'mineralRemover', 'wash', 15, { skill: 'wash', presence: { when: 'minerals' } }),
    aStep('inspection', 'cleanPaintInspection', 'wash', 20, { skill: 'inspection' }),
    aStep('answer', 'customerAnswer', 'wash', 0, { ...unattended, ...byWork }),
    aStep('compound', 'compound', 'correct', 0, {
      ...polisher,
      ...byWork,
      pausable: true,
      presence: { when: 'defects', atLeast: 2 },
    }),
    aStep('finish', 'finishPolish', 'correct', 0, { ...polisher, ...byWork, pausable: true }),
    aStep('interior', 'interior', 'cabin', 60, { skill: 'wash', presence: { when: 'addOn', addOn: 'interior' } }),
    aStep('handover', 'handover', 'cabin', 30, { skill: 'intake' }),
  ].map((step) => (step.key === 'handover' ? { ...step, stay: 'correct' } : step)),
  lags: [],
  airSpans: [],
  stills: [],
});
// The handover stands in the stay of correction, so that the cabin is passed by without its add-on.
correcting.steps.splice(6, 1, { ...correcting.steps[6]!, stay: 'correct' });

function workOf(job: object, given: Partial<Book> = {}) {
  const formulation = formulate(smallShop({ recipes: [correcting], jobs: [aJob('small', job)], ...given }));
  expect(formulation.leftOut).toEqual([]);
  const { operations } = formulation;
  const read = reader(formulation);
  return { ...read, formulation, steps: operations.filter(({ role }) => role !== 'move').map(({ key }) => key) };
}

const condition = { soil: 1, defects: 2, brakeDust: 1, minerals: false, tar: false };

describe('the work a car gets', () => {
  it('has add-ons, mineral removal and correction only where they are asked for', () => {
    expect(workOf({ condition: { ...condition, defects: 0 } }).steps).toEqual([
      'intake',
      'inspection',
      'answer',
      'handover',
    ]);
    expect(workOf({ condition: { ...condition, defects: 1, minerals: true }, addOns: ['interior'] }).steps).toEqual([
      'intake',
      'minerals',
      'inspection',
      'answer',
      'finish',
      'interior',
      'handover',
    ]);
  });

  it('has an operation for each compounding pass: medium paint needs two for grade 3', () => {
    expect(commonNorms.compoundPasses.medium[3]).toBe(2);
    const { steps } = workOf({ condition: { ...condition, defects: 3 } });
    expect(steps.filter((key) => key.startsWith('compound'))).toEqual(['compound', 'compound.2']);
  });

  it('compounds in the second pass only the panels that need one', () => {
    const found = PanelName.options.map((panel) => ({ panel, defects: panel === 'bonnet' ? 3 : 2 }));
    const inspection = { at: at('2026-06-01T04:00Z'), panels: found, film: [], paintHardness: 'medium' };
    const scope = { correctionPasses: 3, answer: 'approved', answerBy: at('2026-06-01T05:00Z'), priceMinor: 0 };
    const { formulation, index } = workOf({ state: 'inShop', inspection, scope });
    const second = formulation.operations[index('compound.2')]!.breakdown;
    const { setUpMinutes, minutesPerUnit } = commonNorms.kinds.compound;
    const bonnet = Math.round(commonNorms.panelAreaM2.compact.bonnet * minutesPerUnit);
    expect(second.minutes).toBe(setUpMinutes + bonnet);
    expect(second.lines.at(-1)!.label).toContain('bonnet');
  });
});

describe('the scope after the inspection', () => {
  const inspection = {
    at: at('2026-06-01T04:30Z'),
    panels: PanelName.options.map((panel) => ({ panel, defects: 4 })),
    film: [],
    paintHardness: 'hard',
  };
  const scope = (answer: string, answerBy = '2026-06-01T06:30Z') => ({
    correctionPasses: 4,
    answer,
    answerBy: at(answerBy),
    priceMinor: 0,
  });
  const inShop = (answer: string, answerBy?: string) =>
    workOf({ state: 'inShop', inspection, scope: scope(answer, answerBy) });
  const compounds = (steps: readonly string[]) => steps.filter((key) => key.startsWith('compound')).length;

  it('runs with all passes once the customer has said yes', () => {
    // Four passes are three of compound and one of finish.
    expect(compounds(inShop('approved').steps)).toBe(3);
  });

  it('is no more than was booked while the answer is awaited, and after a no', () => {
    // Booked at grade 2, medium paint: one pass of compound.
    expect(compounds(inShop('awaited').steps)).toBe(1);
    expect(compounds(inShop('declined').steps)).toBe(1);
  });

  it('waits for the answer until the hour it is due', () => {
    const { operation, iso } = inShop('awaited');
    expect(iso(operation('answer').fixed!.end!)).toBe('2026-06-01T06:30');
  });

  it('does not wait any longer once it is answered, or overdue', () => {
    const { operation, iso } = inShop('approved');
    expect(iso(operation('answer').fixed!.end!)).toBe('2026-06-01T04:30');
    const overdue = inShop('awaited', '2026-06-01T04:50Z');
    expect(overdue.iso(overdue.operation('answer').fixed!.end!)).toBe('2026-06-01T05:00');
  });

  it("before the inspection leaves the shop's time to answer", () => {
    expect(workOf({}).operation('answer').modes).toMatchObject([{ work: 90, uses: [] }]);
  });
});

it('what the floor has learnt of a kind of work changes its minutes, with a line that says so', () => {
  const plain = workOf({});
  const learnt = workOf({}, { estimates: { finishPolish: 120 } });
  const before = plain.formulation.operations[plain.index('finish')]!.breakdown;
  const after = learnt.formulation.operations[learnt.index('finish')]!.breakdown;
  expect(after.minutes).toBe(Math.ceil(before.minutes * 1.2));
  expect(after.lines.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(after.minutes);
});
