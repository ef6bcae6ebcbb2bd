import { judgeReading } from '../../../trade/conditions/judge-reading.ts';
import type { WorkKind } from '../../../trade/model/recipe.ts';
import type { Objection } from '../../problems/shop-problem.ts';
import type { Situation } from './situation.ts';

/** Work that lays a coating. */
export const laysCoat: ReadonlySet<WorkKind> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

/** Coating begins on a measured reading not older than an hour that fits the data sheet, panel and dew point included. */
export function conditionsGate(situation: Situation): Objection[] {
  const { step, coatings, reading, at } = situation;
  if (step === null || !laysCoat.has(step.kind)) return [];
  const coating = coatings.find((each) => each.id === step.coatingId);
  if (coating === undefined) {
    return [{ rule: 'coating', field: 'operation', text: 'The recipe names no coating for it.' }];
  }
  return judgeReading(coating.dataSheet, reading, at).reasons.map((reason) => ({
    rule: 'conditions',
    field: 'readings',
    text: `${coating.name}: ${reason.text}.`,
  }));
}
