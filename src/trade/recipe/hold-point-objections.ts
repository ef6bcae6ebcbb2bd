import type { z } from 'zod';
import type { HoldPoint, Recipe, WorkKind } from '../model/recipe.ts';

const CORRECTING: ReadonlySet<WorkKind> = new Set(['compound', 'finishPolish']);

/** Gates a person passes: inspection on clean paint before correction, whole car finished before the wipe, and so on. */
export function holdPointObjections(recipe: Recipe): string[] {
  const firstOf = (matches: (kind: WorkKind) => boolean) => recipe.steps.findIndex((step) => matches(step.kind));
  const objections: string[] = [];
  const asked = (point: z.infer<typeof HoldPoint>, before: number, why: string) => {
    if (before === -1) return;
    const passed = recipe.steps.some(
      (step, index) => index < before && step.holdPoint === point && step.presence.when === 'always',
    );
    if (!passed)
      objections.push(`steps.${before} (${recipe.steps[before]!.key}): ${why} needs the hold point ${point} before it`);
  };
  const correction = firstOf((kind) => CORRECTING.has(kind));
  asked('cleanPaint', correction, 'correction');
  asked(
    'decontaminated',
    firstOf((kind) => kind === 'cleanPaintInspection'),
    'the inspection',
  );
  if (correction !== -1)
    asked(
      'wholeCarFinished',
      firstOf((kind) => kind === 'panelWipe'),
      'the wipe after correction',
    );
  asked(
    'final',
    firstOf((kind) => kind === 'handover'),
    'the handover',
  );
  if (recipe.corrects && correction === -1) objections.push('corrects is true, but no step compounds or polishes');
  if (!recipe.corrects && correction !== -1) objections.push('corrects is false, but a step compounds or polishes');
  return objections;
}
