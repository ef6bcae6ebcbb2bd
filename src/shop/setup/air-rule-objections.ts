import type { AirZone } from '../../trade/model/shop.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** What in a zone's rules contradicts itself: a label against itself, a pair that is ruled twice. */
export function airRuleObjections(zone: AirZone): Objection[] {
  const seen = new Set<string>();
  return zone.rules.flatMap((rule, at) => {
    const field = `rules.${at}`;
    if (rule.first === rule.second) {
      return [{ rule: 'twoLabels', field: `${field}.second`, text: `${rule.first} is set against itself.` }];
    }
    const pair = [rule.first, rule.second].sort().join(' ');
    if (seen.has(pair)) {
      return [{ rule: 'pairOnce', field, text: `${rule.first} and ${rule.second} have a rule already.` }];
    }
    seen.add(pair);
    return [];
  });
}
