import type { ConflictPart } from '../../engine/problem/solution.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { Shop } from '../../trade/model/shop.ts';
import { carName } from '../jobs/job-view.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { inLocalTime } from './in-local-time.ts';

/** A part of the solver's conflict as a sentence of the shop: cars and work by their names, minutes as times of day. */
export function reasonInWords(part: ConflictPart, formulation: Formulation, shop: Shop): Objection {
  return { rule: `conflict.${part.kind}`, field: '', text: `${sentence(part, formulation, shop)}.` };
}

function sentence({ kind, index, text }: ConflictPart, formulation: Formulation, shop: Shop): string {
  const { problem, operations, jobs } = formulation;
  const label = (o: number) => `"${operations[o]!.label}"`;
  const car = (o: number) => carName(jobs[problem.operations[o]!.job]!.job);
  switch (kind) {
    case 'operation':
      return `${car(index)}: ${label(index)} finds no place, people and hours`;
    case 'budget':
      return `${car(index)}: the day's limit for ${label(index)} is used up`;
    case 'fixed':
      return `${car(index)}: ${label(index)} is fixed to an hour that does not fit`;
    case 'lag': {
      const { from, to, max } = problem.lags[index]!;
      return `${car(to.operation)}: ${label(to.operation)} cannot follow ${label(from.operation)} within ${max} minutes`;
    }
    default:
      return inLocalTime(text, formulation, shop).replace(/\.$/, '');
  }
}
