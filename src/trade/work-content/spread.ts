import type { WorkKind } from '../model/recipe.ts';
import { commonNorms } from './common-norms.ts';
import type { WorkNorms } from './work-norms.ts';

/** A three-point estimate, in minutes. */
export interface Spread {
  readonly optimistic: number;
  readonly likely: number;
  readonly pessimistic: number;
  /** (a + 4m + b) / 6 */
  readonly mean: number;
  /** (b - a) / 6 */
  readonly standardDeviation: number;
}

/**
 * Mean and standard deviation of a three-point estimate: D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar,
 * "Application of a Technique for Research and Development Program Evaluation", Operations Research 7 (1959).
 *
 * @throws RangeError when the three points are not in order.
 */
export function threePoint(optimistic: number, likely: number, pessimistic: number): Spread {
  if (!(optimistic <= likely && likely <= pessimistic)) {
    throw new RangeError(`optimistic ${optimistic}, likely ${likely}, pessimistic ${pessimistic} must not fall`);
  }
  return {
    optimistic,
    likely,
    pessimistic,
    mean: (optimistic + 4 * likely + pessimistic) / 6,
    standardDeviation: (pessimistic - optimistic) / 6,
  };
}

/** How far the duration of a kind of work strays around its likely minutes, before the floor has recorded any. */
export function spread(kind: WorkKind, likelyMinutes: number, norms: Pick<WorkNorms, 'kinds'> = commonNorms): Spread {
  const norm = norms.kinds[kind];
  return threePoint(
    (likelyMinutes * norm.optimisticPercent) / 100,
    likelyMinutes,
    (likelyMinutes * norm.pessimisticPercent) / 100,
  );
}
