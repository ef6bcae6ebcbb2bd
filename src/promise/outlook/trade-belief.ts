import type { Shop } from '../../trade/model/shop.ts';
import type { LearnedFromFloor } from '../../trade/work-content/learned-from-floor.ts';
import type { WorkNorms } from '../../trade/work-content/work-norms.ts';
import { learnDurations } from '../spread/duration-model.ts';
import { tradePriors } from './trade-priors.ts';

/** One inspection in ten on clean paint finds more to correct than was booked; common practice, until it is measured. */
export const SCOPE_CHANGES = 0.1;

/** What is believed before the floor has recorded anything: the trade's norms and the shop's word. */
export function tradeBelief(shop: Pick<Shop, 'finalInspectionFailurePercent'>, norms?: WorkNorms): LearnedFromFloor {
  return {
    durations: learnDurations([], tradePriors(norms)).durations,
    inspectionFails: shop.finalInspectionFailurePercent / 100,
    scopeChanges: SCOPE_CHANGES,
    spreadFactor: 1,
  };
}
