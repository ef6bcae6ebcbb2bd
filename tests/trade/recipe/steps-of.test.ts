import { describe, expect, it } from 'vitest';
import { Inspection } from '../../../src/trade/model/condition.ts';
import { stepsOf } from '../../../src/trade/recipe/steps-of.ts';
import { demo, demoRecipe } from '../../seed/demo-shop.ts';

const recipe = demoRecipe('oneLayerCeramic');
const job = { ...demo.book[0]!, inspection: null };
const keys = (change: object = {}) => stepsOf(recipe, { ...job, ...change }).map((step) => step.key);

describe('the steps of a job', () => {
  it('are compounded for swirls and not for light marring', () => {
    expect(keys()).toContain('compound');
    expect(keys({ condition: { ...job.condition, defects: 1 } })).not.toContain('compound');
    expect(keys({ condition: { ...job.condition, defects: 1 } })).toContain('finishPolish');
  });

  it('follow the worst panel the inspection found, not what the desk was told', () => {
    const inspection = Inspection.parse({
      at: 0,
      panels: [{ panel: 'roof', defects: 0 }],
      film: [],
      paintHardness: null,
    });
    expect(keys({ inspection })).not.toContain('finishPolish');
  });

  it('have acid only on minerals, and add-ons only when booked', () => {
    expect(keys()).not.toContain('mineralSpray');
    expect(keys({ condition: { ...job.condition, minerals: true } })).toContain('mineralSpray');
    expect(keys()).not.toContain('glass');
    expect(keys({ addOns: ['glass'] })).toContain('glass');
  });

  it('leave remedies and branches to the plan', () => {
    expect(keys()).not.toContain('rewipe');
    expect(keys()).not.toContain('lampCure');
  });
});
