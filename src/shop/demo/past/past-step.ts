import { conditionOf } from '../../../promise/outlook/condition-of.ts';
import { minutesAt } from '../../../trade/cure/data-sheet-at.ts';
import type { ShopData } from '../../../trade/formulate/book.ts';
import { plannedFacts } from '../../../trade/formulate/car.ts';
import { itemsOf } from '../../../trade/formulate/items.ts';
import type { StepInstance } from '../../../trade/formulate/step-instance.ts';
import type { Job } from '../../../trade/model/job.ts';
import type { Recipe, RecipeStep, StepDuration } from '../../../trade/model/recipe.ts';
import { commonNorms } from '../../../trade/work-content/common-norms.ts';

/** One piece of a car's work in the demo's past. */
export interface PastStep {
  readonly key: string;
  readonly step: RecipeStep;
  /** At the norm's pace; of unattended work the time it takes. */
  readonly minutes: number;
  readonly paced: boolean;
  /** What made it easier or harder than the norm knows. */
  readonly condition: string | null;
  /** It starts no sooner than so many minutes after the start or end of work before it. */
  readonly waits: readonly { readonly key: string; readonly edge: 'start' | 'end'; readonly minutes: number }[];
  /** Minutes, its own included, that had best be done in one go once it has begun, and those that must be. */
  readonly bestInOneGo: number;
  readonly mustInOneGo: number;
}

/** After a maximum this long a night is too long, after one that short a break at noon. */
const NO_NIGHT_MINUTES = 90;
const NO_BREAK_MINUTES = 45;

/** The work of a job in order; of a choice, the first way. */
export function pastSteps(job: Job, recipe: Recipe, data: ShopData): readonly PastStep[] {
  const facts = plannedFacts(job, data.shop, commonNorms);
  const record = { work: new Map(), visits: [], failures: [], pickedUp: false };
  const items = itemsOf({ job, recipe, record, facts, frame: { norms: commonNorms, book: {} } });
  const instances = items.flatMap((item) => (item.kind === 'step' ? [item.instance] : [...item.alternatives[0]!]));
  const minutesBy = minutesIn(data);
  const steps = instances.map(({ key, step, breakdown }: StepInstance): PastStep => {
    const { duration } = step;
    return {
      key,
      step,
      minutes: duration.by === 'workContent' ? breakdown.minutes : minutesBy(duration, step.coatingId),
      paced: duration.by === 'workContent' && commonNorms.kinds[step.kind].paced,
      condition: conditionOf(step.kind, facts),
      waits: recipe.lags
        .filter(({ to, remedy }) => to.step === step.key && to.edge === 'start' && !remedy.includes(key))
        .map(({ from, min }) => {
          const coating = recipe.steps.find((each) => each.key === from.step)?.coatingId ?? step.coatingId;
          return { key: from.step, edge: from.edge, minutes: minutesBy(min, coating) };
        }),
      bestInOneGo: 0,
      mustInOneGo: 0,
    };
  });
  return inOneGo(steps, recipe);
}

/** Minutes that a duration states, or its data sheet in the air that the shop's coating bays are kept at. */
function minutesIn({ coatings, places, airZones }: ShopData) {
  const bay = places.find(({ capabilities }) => capabilities.includes('coating'));
  const air = airZones.find(({ id }) => id === bay?.airZoneId)?.setPoint;
  return (duration: StepDuration, coatingId: RecipeStep['coatingId']): number => {
    if (duration.by === 'minutes') return duration.minutes;
    const sheet = coatings.find(({ id }) => id === coatingId)?.dataSheet;
    if (duration.by === 'workContent' || sheet === undefined || air === undefined) return 0;
    return Math.ceil(minutesAt(sheet, duration.item, air));
  };
}

function inOneGo(steps: readonly PastStep[], recipe: Recipe): PastStep[] {
  const mostBetween = (from: PastStep, to: PastStep) =>
    Math.min(
      ...recipe.lags.map(({ from: a, to: b, max }) =>
        a.step === from.step.key && b.step === to.step.key && max?.by === 'minutes'
          ? max.minutes
          : Number.POSITIVE_INFINITY,
      ),
    );
  const whole: PastStep[] = [];
  for (const step of [...steps].reverse()) {
    const next = whole[0];
    const most = next === undefined ? Number.POSITIVE_INFINITY : mostBetween(step, next);
    whole.unshift({
      ...step,
      bestInOneGo: step.minutes + (most <= NO_NIGHT_MINUTES ? next!.bestInOneGo : 0),
      mustInOneGo: step.minutes + (most <= NO_BREAK_MINUTES ? next!.mustInOneGo : 0),
    });
  }
  return whole;
}
