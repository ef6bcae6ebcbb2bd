import { tradePriors } from '../../../promise/outlook/trade-priors.ts';
import { scenarioSeed, streamOf, uniform } from '../../../promise/simulate/seeded-draws.ts';
import { normalQuantile } from '../../../promise/spread/standard-normal.ts';
import type { PastTemplate } from '../../../trade/demo/past-template.ts';
import type { TechnicianId } from '../../../trade/model/ids.ts';
import type { LocalDate } from '../../../trade/model/time.ts';
import type { PastStep } from './past-step.ts';

/** How long work takes, and which inspections fail, in one run through the past. */
export interface PastLuck {
  /** Minutes for each minute that the norm says of somebody's work, or of work that nobody does (null). */
  factor(car: number, step: PastStep, person: TechnicianId | null, day: LocalDate): number;
  /** Minutes of rework that the inspection of a car asks for; null: it passes. */
  rework(car: number): number | null;
}

const DAY_MS = 86_400_000;
const priors = tradePriors();

/**
 * One way in which the past might have gone: the trade's spread around the norms, moved to how the template says that this shop, its
 * people and its days are. The same scenario is the same luck.
 *
 * @param first day of the past, from which days are counted.
 */
export function pastLuck(
  template: PastTemplate,
  scenario: number,
  first: LocalDate,
  rework: PastLuck['rework'],
): PastLuck {
  const luck = scenarioSeed(template.seed, scenario);
  const normal = (what: string) => normalQuantile(uniform(luck, streamOf(what)));
  const ofDays = new Map<string, number>();
  const ofDay = (day: LocalDate) => {
    const nth = (Date.parse(day) - Date.parse(first)) / DAY_MS;
    const known = ofDays.get(day) ?? Math.exp((template.dayPercent / 100) * normal(`day ${nth}`));
    ofDays.set(day, known);
    return known;
  };
  return {
    factor: (car, { key, step, condition }, person, day) => {
      const { logMean, logDeviation } = priors.get(step.kind)!;
      const own = template.peoplePercent.find(({ technicianId }) => technicianId === person)?.percent ?? 100;
      const really = template.reallyPercent
        .filter((each) => each.kind === step.kind && (each.condition ?? condition) === condition)
        .reduce((factor, { percent }) => (factor * percent) / 100, own / 100);
      return Math.exp(logMean + logDeviation * normal(`${car} ${key}`)) * really * ofDay(day);
    },
    rework,
  };
}

const REWORK_MINUTES = 60;

/** Final inspections that fail as often as the shop says. */
export function failsAsStated(template: PastTemplate, scenario: number, percent: number): PastLuck['rework'] {
  const luck = scenarioSeed(template.seed, scenario);
  return (car) => (uniform(luck, streamOf(`rework ${car}`)) * 100 < percent ? REWORK_MINUTES : null);
}
