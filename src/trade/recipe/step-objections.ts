import type { Recipe, RecipeStep, WorkKind } from '../model/recipe.ts';
import type { RecipeObjection } from './recipe-objection.ts';

const LAYING: ReadonlySet<WorkKind> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

/** Steps known once, in the order of their stays, with a crew that fits how they are attended. */
export function stepObjections(recipe: Recipe): RecipeObjection[] {
  const objections: RecipeObjection[] = [];
  const object = (field: string, text: string) => objections.push({ field, text });
  const stayIndex = new Map(recipe.stays.map((stay, index) => [stay.key, index]));
  if (stayIndex.size < recipe.stays.length) object('stays', 'a key is used twice');
  const keys = recipe.steps.map((step) => step.key);
  let reached = 0;
  recipe.steps.forEach((step, index) => {
    const field = `steps.${index}`;
    if (keys.indexOf(step.key) !== index) object(`${field}.key`, `"${step.key}" is used twice`);
    const at = stayIndex.get(step.stay);
    if (at === undefined) object(`${field}.stay`, `"${step.stay}" is not one of the stays`);
    else if (at < reached) object(`${field}.stay`, `"${step.stay}" comes before the stay of an earlier step`);
    else reached = at;
    if (at !== undefined && recipe.stays[at]!.optional && step.presence.when === 'always') {
      object(`${field}.stay`, `"${step.stay}" is optional, but ${step.label} always belongs to the job`);
    }
    for (const [name, text] of crewAndDurationFaults(step)) object(`${field}.${name}`, `${step.label}: ${text}`);
  });
  if (recipe.steps[0]!.presence.when !== 'always') {
    object('steps.0.presence', 'the first step receives the car and is always present');
  }
  const last = recipe.steps.at(-1)!;
  if (last.kind !== 'handover' || last.presence.when !== 'always') {
    object(`steps.${recipe.steps.length - 1}.kind`, 'the last step is the handover, always present');
  }
  return objections;
}

function* crewAndDurationFaults(step: RecipeStep): Generator<[string, string]> {
  const unattended = step.attendance.kind === 'unattended';
  if (unattended && step.crew.size > 0) yield ['crew.size', 'nobody attends it, so its crew is 0'];
  if (!unattended && step.crew.size === 0) yield ['crew.size', 'it is attended and needs somebody'];
  if (step.leastFirstPieceMinutes !== undefined && !step.pausable)
    yield ['leastFirstPieceMinutes', 'it does not pause'];
  if (step.longestPauseMinutes !== undefined && !step.pausable) yield ['longestPauseMinutes', 'it does not pause'];
  if (step.coatingId !== null) return;
  if (step.duration.by === 'dataSheet') yield ['coatingId', 'its duration is on a data sheet, of which coating?'];
  if (step.crew.certified) yield ['coatingId', 'it asks a certificate, for which coating?'];
  if (LAYING.has(step.kind)) yield ['coatingId', 'it lays a coating, which?'];
}
