import type { Objection } from '../../problems/shop-problem.ts';
import { placeOfCar, type Situation } from './situation.ts';

/** The car is here, in a place where this work can be done; a coated car that may not move yet is left where it is. */
export function carGate(situation: Situation): Objection[] {
  const { happened, step, recipe, places } = situation;
  if (happened.pickedUpAt !== null) return [{ rule: 'carGone', field: 'jobId', text: 'The car was picked up.' }];
  if (step?.kind === 'intake' && happened.arrivedAt === null) return [];
  const place = placeOfCar(situation, places);
  if (place === null) return [{ rule: 'carMissing', field: 'jobId', text: 'The car has not arrived.' }];
  const needs = recipe.stays.find((stay) => stay.key === step?.stay)?.needs ?? [];
  const lacking = needs.filter((need) => !place.capabilities.includes(need));
  if (lacking.length === 0) return [];
  return [
    {
      rule: 'wrongPlace',
      field: 'operation',
      text: `The car stands in ${place.name}, which has no ${lacking.join(', ')}; move it first.`,
    },
  ];
}
