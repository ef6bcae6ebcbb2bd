import type { Job } from '../model/job.ts';
import type { Recipe, RecipeStep } from '../model/recipe.ts';

/** What presence is judged by. */
export type PresenceFacts = Pick<Job, 'addOns' | 'condition' | 'inspection'>;

/** Worst defect grade known of a car: of the inspection once there is one. */
export function worstDefects(job: Pick<Job, 'condition' | 'inspection'>): number {
  const inspected = job.inspection?.panels ?? [];
  if (inspected.length === 0) return job.condition.defects;
  let worst = 0;
  for (const { defects } of inspected) worst = Math.max(worst, defects);
  return worst;
}

/** Whether a step belongs to a job for certain: `yes`, `no`, or `maybe` when a window or a branch will tell. */
export function stepPresence(step: Pick<RecipeStep, 'presence'>, job: PresenceFacts): 'yes' | 'no' | 'maybe' {
  switch (step.presence.when) {
    case 'always':
      return 'yes';
    case 'addOn':
      return job.addOns.includes(step.presence.addOn) ? 'yes' : 'no';
    case 'defects':
      return worstDefects(job) >= step.presence.atLeast ? 'yes' : 'no';
    case 'minerals':
      return job.condition.minerals ? 'yes' : 'no';
    case 'remedy':
    case 'branch':
      return 'maybe';
  }
}

/** The steps a job has for certain, in the recipe's order. */
export function stepsOf(recipe: Pick<Recipe, 'steps'>, job: PresenceFacts): RecipeStep[] {
  return recipe.steps.filter((step) => stepPresence(step, job) === 'yes');
}
