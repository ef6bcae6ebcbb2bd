import type { Shop } from '../../trade/model/shop.ts';
import { commonNorms } from '../../trade/work-content/common-norms.ts';
import type { LearnedDurations, LearnedFromFloor } from '../../trade/work-content/learned-from-floor.ts';
import type { WorkNorms } from '../../trade/work-content/work-norms.ts';
import { learnDurations } from '../spread/duration-model.ts';
import { tradePriors } from './trade-priors.ts';

/** One inspection in ten on clean paint finds more to correct than was booked; common practice, until it is measured. */
export const SCOPE_CHANGES = 0.1;

/** What is believed before the floor has recorded anything: the trade's norms and the shop's word. */
export function tradeBelief(
  shop: Pick<Shop, 'finalInspectionFailurePercent'>,
  norms: WorkNorms = commonNorms,
): LearnedFromFloor {
  return {
    durations: durationsBelieved(norms),
    inspectionFails: shop.finalInspectionFailurePercent / 100,
    scopeChanges: SCOPE_CHANGES,
    spreadFactor: 1,
  };
}

/** What norms say of durations is worked out once, as long as they live: it is asked for with each car. */
const believed = new WeakMap<WorkNorms, LearnedDurations>();

function durationsBelieved(norms: WorkNorms): LearnedDurations {
  let durations = believed.get(norms);
  if (durations === undefined) {
    durations = learnDurations([], tradePriors(norms)).durations;
    believed.set(norms, durations);
  }
  return durations;
}
