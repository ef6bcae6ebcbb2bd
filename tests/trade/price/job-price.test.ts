import { describe, expect, it } from 'vitest';
import { jobPrice } from '../../../src/trade/price/job-price.ts';
import { workContent } from '../../../src/trade/work-content/work-content.ts';
import { workFacts } from '../../../src/trade/work-content/work-facts.ts';
import { demo, demoRecipe } from '../../seed/demo-shop.ts';

const recipe = demoRecipe('oneLayerCeramic');
const price = (change: object = {}, correctionPasses: number | null = null) => {
  const job = { ...demo.book[0]!, inspection: null, scope: null, ...change };
  const facts = { ...workFacts(job, demo.shop), correctionPasses };
  return { ...jobPrice(recipe, job, facts, demo.shop, demo.coatings), facts };
};

describe('a price', () => {
  it('is the base price, and correction minutes at the labour rate, by hand', () => {
    // Compact, swirls, one compounding pass: 210 min at 65.00 an hour is 227.50; finishing by its own minutes.
    const { minor, lines, facts } = price();
    expect(lines[0]).toEqual({ label: 'One-layer ceramic', minor: 42_000 });
    expect(workContent('compound', facts).minutes).toBe(210);
    expect(lines[1]).toEqual({ label: 'Compound, 210 min', minor: 22_750 });
    const finishing = workContent('finishPolish', facts).minutes;
    expect(minor).toBe(42_000 + 22_750 + Math.round((finishing * 6500) / 60));
  });

  it('adds up line by line in whole minor units', () => {
    for (const addOns of [[], ['glass'], ['interior', 'wheels'], ['film', 'trim']]) {
      const { minor, lines } = price({ addOns });
      expect(lines.reduce((sum, line) => sum + line.minor, 0)).toBe(minor);
      for (const line of lines) expect(Number.isInteger(line.minor)).toBe(true);
    }
  });

  it("counts an add-on's labour and the coating it lays", () => {
    const labels = price({ addOns: ['glass'] }).lines.map((line) => line.label);
    expect(labels).toContain('Coat the glass, 45 min');
    expect(labels.some((label) => label.startsWith('Glass coat D (invented), '))).toBe(true);
  });

  it('of a car left as it is, is the base price alone', () => {
    expect(price({}, 0).lines).toHaveLength(1);
  });

  it('does not depend on who does the work', () => {
    const job = { ...demo.book[0]!, inspection: null, scope: null };
    const slow = workFacts(job, demo.shop, { size: 2, pacePercent: 60 });
    expect(jobPrice(recipe, job, slow, demo.shop, demo.coatings).minor).toBe(price().minor);
  });
});
