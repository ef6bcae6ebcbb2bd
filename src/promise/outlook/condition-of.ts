import type { WorkKind } from '../../trade/model/recipe.ts';
import { commonNorms } from '../../trade/work-content/common-norms.ts';
import type { WorkFacts } from '../../trade/work-content/work-facts.ts';
import type { WorkNorms } from '../../trade/work-content/work-norms.ts';

/**
 * The condition records of a kind of work are pooled by: what the norm already corrects for is what it may correct wrongly.
 * Null when nothing makes the work harder or easier than usual.
 */
export function conditionOf(
  kind: WorkKind,
  facts: Pick<WorkFacts, 'soil' | 'brakeDust' | 'tar' | 'paintHardness'>,
  norms: Pick<WorkNorms, 'kinds'> = commonNorms,
): string | null {
  switch (norms.kinds[kind].modifier) {
    case 'soil':
      return facts.soil === 0 ? null : `soil ${facts.soil}`;
    case 'brakeDust':
      return facts.brakeDust === 0 ? null : `brake dust ${facts.brakeDust}`;
    case 'tar':
      return facts.tar ? 'tar' : null;
    case 'hardness':
      return facts.paintHardness === 'medium' ? null : `${facts.paintHardness} paint`;
    case 'none':
      return null;
  }
}
