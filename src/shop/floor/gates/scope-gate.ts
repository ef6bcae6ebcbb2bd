import type { WorkKind } from '../../../trade/model/recipe.ts';
import type { Objection } from '../../problems/shop-problem.ts';
import type { Situation } from './situation.ts';

const cuts: ReadonlySet<WorkKind> = new Set(['compound', 'finishPolish']);

/** Nothing is cut while the customer's answer to the revised scope is awaited. */
export function scopeGate({ job, step, at }: Situation): Objection[] {
  if (step === null || !cuts.has(step.kind) || job.scope?.answer !== 'awaited') return [];
  const minutes = Math.max(0, Math.round((job.scope.answerBy - at) / 60_000));
  const text = `The customer has not answered the revised scope; the default runs in ${minutes} minutes.`;
  return [{ rule: 'scope', field: 'operation', text }];
}
