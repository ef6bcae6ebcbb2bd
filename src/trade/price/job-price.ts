import { coatedAreaM2, millilitresFor } from '../materials/coating-need.ts';
import type { Coating } from '../model/coating.ts';
import type { Recipe, RecipeStep } from '../model/recipe.ts';
import type { Shop } from '../model/shop.ts';
import { type PresenceFacts, stepsOf } from '../recipe/steps-of.ts';
import { commonNorms } from '../work-content/common-norms.ts';
import { workContent } from '../work-content/work-content.ts';
import type { WorkFacts } from '../work-content/work-facts.ts';
import type { WorkNorms } from '../work-content/work-norms.ts';

export interface PriceLine {
  readonly label: string;
  /** In the minor unit of the shop's currency. */
  readonly minor: number;
}

/** A price and the lines that add up to it. */
export interface JobPrice {
  readonly minor: number;
  readonly lines: readonly PriceLine[];
}

/** Paid by the area and the passes the car needs, beyond the base price. */
const BY_PASSES: ReadonlySet<RecipeStep['kind']> = new Set(['compound', 'finishPolish']);

/**
 * Price of a job: the recipe's base price, correction by the minutes its panels and passes take at the labour rate,
 * add-ons by their minutes, and the coatings that add-ons lay by the millilitre. Minutes are one person's at the
 * shop's norm, whoever does the work.
 */
export function jobPrice(
  recipe: Pick<Recipe, 'name' | 'steps' | 'basePriceMinor'>,
  job: PresenceFacts,
  facts: WorkFacts,
  shop: Pick<Shop, 'labourRatePerHourMinor'>,
  coatings: readonly Pick<Coating, 'id' | 'name' | 'dataSheet' | 'pricePerBottleMinor'>[],
  norms: WorkNorms = commonNorms,
): JobPrice {
  const oneAtNorm: WorkFacts = { ...facts, crewSize: 1, pacePercent: 100 };
  const lines: PriceLine[] = [{ label: recipe.name, minor: recipe.basePriceMinor }];
  for (const step of stepsOf(recipe, job)) {
    const addOn = step.presence.when === 'addOn';
    if (!addOn && !BY_PASSES.has(step.kind)) continue;
    const minutes =
      step.duration.by === 'minutes' ? step.duration.minutes : workContent(step.kind, oneAtNorm, norms).minutes;
    const labour = Math.round((minutes * shop.labourRatePerHourMinor) / 60);
    if (labour > 0) lines.push({ label: `${step.label}, ${minutes} min`, minor: labour });
    const coating = coatings.find((one) => one.id === step.coatingId);
    const areaM2 = coatedAreaM2(step.kind, facts.vehicleClass, norms);
    if (addOn && coating && areaM2 > 0) {
      const millilitres = millilitresFor(coating.dataSheet, areaM2);
      const minor = Math.round((millilitres * coating.pricePerBottleMinor) / coating.dataSheet.bottleMillilitres);
      lines.push({ label: `${coating.name}, ${millilitres} ml`, minor });
    }
  }
  return { minor: lines.reduce((sum, line) => sum + line.minor, 0), lines };
}
