import type { Recipe, WorkKind } from '../model/recipe.ts';

const LAYING: ReadonlySet<WorkKind> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

/** Steps known once, in the order of their stays, with a crew that fits how they are attended. */
export function stepObjections(recipe: Recipe): string[] {
  const objections: string[] = [];
  const stayIndex = new Map(recipe.stays.map((stay, index) => [stay.key, index]));
  if (stayIndex.size < recipe.stays.length) objections.push('stays: a key is used twice');
  const keys = recipe.steps.map((step) => step.key);
  let reached = 0;
  recipe.steps.forEach((step, index) => {
    const field = `steps.${index} (${step.key})`;
    if (keys.indexOf(step.key) !== index) objections.push(`${field}.key is used twice`);
    const at = stayIndex.get(step.stay);
    if (at === undefined) objections.push(`${field}.stay "${step.stay}" is not one of the stays`);
    else if (at < reached) objections.push(`${field}.stay "${step.stay}" comes before the stay of an earlier step`);
    else reached = at;
    if (at !== undefined && recipe.stays[at]!.optional && step.presence.when === 'always') {
      objections.push(`${field}.stay "${step.stay}" is optional, but the step always belongs to the job`);
    }
    const unattended = step.attendance.kind === 'unattended';
    if (unattended && step.crew.size > 0) objections.push(`${field}.crew.size must be 0: nobody attends it`);
    if (!unattended && step.crew.size === 0) objections.push(`${field}.crew.size must be at least 1: it is attended`);
    if (step.leastFirstPieceMinutes !== undefined && !step.pausable) {
      objections.push(`${field}.leastFirstPieceMinutes needs pausable`);
    }
    if (step.longestPauseMinutes !== undefined && !step.pausable) {
      objections.push(`${field}.longestPauseMinutes needs pausable`);
    }
    if (step.coatingId === null && step.duration.by === 'dataSheet') {
      objections.push(`${field}.coatingId is needed: its duration is on a data sheet`);
    }
    if (step.coatingId === null && (step.crew.certified || LAYING.has(step.kind))) {
      objections.push(`${field}.coatingId is needed: it lays a coating or asks a certificate for one`);
    }
  });
  if (recipe.steps[0]!.presence.when !== 'always')
    objections.push('steps.0.presence must be always: it receives the car');
  const last = recipe.steps.at(-1)!;
  if (last.kind !== 'handover' || last.presence.when !== 'always') {
    objections.push(`steps.${recipe.steps.length - 1} (${last.key}) must be the handover, always present`);
  }
  return objections;
}
