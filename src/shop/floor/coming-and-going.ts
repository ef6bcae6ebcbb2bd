import type { FloorEvent, FloorFact, Job } from '../../trade/model/job.ts';
import type { Recipe } from '../../trade/model/recipe.ts';
import type { Instant } from '../../trade/model/time.ts';
import { stepOf } from './recipe-step.ts';

/** When a car really came and left, as far as it has. */
export type ComingAndGoing = Pick<Job, 'cameAt' | 'leftAt'>;

/** Whether a fact says that the car was in the shop's hands. */
export function tellsHere({ kind }: FloorFact): boolean {
  return kind === 'arrived' || kind === 'moved' || kind === 'started';
}

/** Whether a fact says that the car was given back. */
export function tellsGone(fact: FloorFact, recipe: Pick<Recipe, 'steps'> | null): boolean {
  if (fact.kind === 'pickedUp') return true;
  return fact.kind === 'finished' && recipe !== null && stepOf(recipe, fact.operation)?.kind === 'handover';
}

/**
 * When a car came and left, from its facts in whatever order they were told: it came at the first that says it was here, and left when
 * it was picked up. Where nobody told a pickup, it left when its handover was finished.
 */
export function comingAndGoing(
  events: readonly Pick<FloorEvent, 'occurredAt' | 'fact'>[],
  recipe: Pick<Recipe, 'steps'> | null,
): ComingAndGoing {
  const here = events.filter(({ fact }) => tellsHere(fact));
  const gone = events.filter(({ fact }) => tellsGone(fact, recipe));
  const pickedUp = gone.filter(({ fact }) => fact.kind === 'pickedUp');
  return {
    ...(here.length === 0 ? {} : { cameAt: earliest(here) }),
    ...(gone.length === 0 ? {} : { leftAt: earliest(pickedUp.length === 0 ? gone : pickedUp) }),
  };
}

function earliest(events: readonly Pick<FloorEvent, 'occurredAt'>[]): Instant {
  return Math.min(...events.map(({ occurredAt }) => occurredAt)) as Instant;
}
