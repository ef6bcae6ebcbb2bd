import type { z } from 'zod';
import type { HoldPoint, Recipe, WorkKind } from '../model/recipe.ts';
import type { RecipeObjection } from './recipe-objection.ts';

const CORRECTING: ReadonlySet<WorkKind> = new Set(['compound', 'finishPolish']);

/**
 * Gates a person passes: all surfaces decontaminated before the inspection, the inspection on clean paint before any
 * correction, the whole car finished before the wipe, the final inspection before the handover.
 */
export function holdPointObjections(recipe: Recipe): RecipeObjection[] {
  const objections: RecipeObjection[] = [];
  const firstOf = (matches: (kind: WorkKind) => boolean) => recipe.steps.findIndex((step) => matches(step.kind));
  const asked = (point: z.infer<typeof HoldPoint>, before: number) => {
    if (before === -1) return;
    const passed = recipe.steps.some(
      (step, index) => index < before && step.holdPoint === point && step.presence.when === 'always',
    );
    const text = `${recipe.steps[before]!.label} needs the hold point ${point} before it`;
    if (!passed) objections.push({ field: `steps.${before}`, text });
  };
  const correction = firstOf((kind) => CORRECTING.has(kind));
  asked('cleanPaint', correction);
  asked(
    'decontaminated',
    firstOf((kind) => kind === 'cleanPaintInspection'),
  );
  if (correction !== -1)
    asked(
      'wholeCarFinished',
      firstOf((kind) => kind === 'panelWipe'),
    );
  asked(
    'final',
    firstOf((kind) => kind === 'handover'),
  );
  if (recipe.corrects && correction === -1) {
    objections.push({ field: 'corrects', text: 'is true, but no step compounds or polishes' });
  }
  if (!recipe.corrects && correction !== -1) {
    objections.push({ field: 'corrects', text: 'is false, but a step compounds or polishes' });
  }
  return objections;
}
