import { WORK_KINDS } from '../../trade/model/lists.ts';
import type { WorkKind } from '../../trade/model/recipe.ts';
import { commonNorms } from '../../trade/work-content/common-norms.ts';
import { spread } from '../../trade/work-content/spread.ts';
import type { WorkNorms } from '../../trade/work-content/work-norms.ts';
import type { LogNormal } from '../spread/log-normal.ts';
import { tradeFactor } from '../spread/trade-prior.ts';

/** What the norms' three points say of every kind of work, as a factor on its work content. */
export function tradePriors(norms: Pick<WorkNorms, 'kinds'> = commonNorms): Map<WorkKind, LogNormal> {
  return new Map(WORK_KINDS.map((kind) => [kind, tradeFactor(spread(kind, 100, norms))]));
}
