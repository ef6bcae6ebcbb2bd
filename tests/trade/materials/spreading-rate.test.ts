import { describe, expect, it } from 'vitest';
import { coatedAreaM2, coatingNeed, millilitresFor } from '../../../src/trade/materials/coating-need.ts';
import { practicalSpreadM2PerLitre, theoreticalSpreadM2PerLitre } from '../../../src/trade/materials/spreading-rate.ts';
import { demo, demoRecipe } from '../../seed/demo-shop.ts';
import { sheet } from '../data-sheets.ts';

describe('the spreading rate', () => {
  // 1 litre of solids covers 1000 m2 at 1 micrometre, since 1 m2 x 1 micrometre is a millilitre. By hand.
  it.each([
    [100, 1, 1000],
    [50, 1, 500],
    [50, 50, 10],
    [70, 1.4, 500],
  ])('of %d %% solids at %d µm is %d m2 a litre', (solids, film, m2) => {
    expect(theoreticalSpreadM2PerLitre(solids, film)).toBeCloseTo(m2, 9);
  });

  it('in practice is what the loss leaves (ISO 23811)', () => {
    // 70 % at 1.2 micrometres: 583.33 m2/l; 40 % lost leaves 350.
    expect(practicalSpreadM2PerLitre(sheet)).toBeCloseTo(350, 6);
  });

  it('gives the millilitres of a layer, rounded up', () => {
    expect(millilitresFor(sheet, 35)).toBe(100);
    expect(millilitresFor(sheet, 11.4)).toBe(33);
  });
});

describe('the coating a job needs', () => {
  it('counts each layer, and add-ons only when they are booked', () => {
    const recipe = demoRecipe('multiLayerCeramic');
    const perLayer = millilitresFor(
      demo.coatings.find((one) => one.id === 'baseCoatA')!.dataSheet,
      coatedAreaM2('coatLayer', 'compact'),
    );
    const plain = coatingNeed(recipe, 'compact', [], demo.coatings);
    expect(plain.get('baseCoatA' as never)).toBe(2 * perLayer);
    expect(plain.has('glassCoatD' as never)).toBe(false);
    expect(coatingNeed(recipe, 'compact', ['glass'], demo.coatings).get('glassCoatD' as never)).toBeGreaterThan(0);
  });

  it('is about a bottle a layer on an ordinary car (common practice: 30 to 50 ml)', () => {
    for (const id of ['baseCoatA', 'oneCoatC']) {
      const { dataSheet } = demo.coatings.find((one) => one.id === id)!;
      const need = millilitresFor(dataSheet, coatedAreaM2('coatLayer', 'compact'));
      expect(need).toBeGreaterThanOrEqual(30);
      expect(need).toBeLessThanOrEqual(50);
    }
  });
});
