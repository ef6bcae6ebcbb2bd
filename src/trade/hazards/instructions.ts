import type { DataSheet } from '../model/coating.ts';
import type { WorkKind } from '../model/recipe.ts';
import { instructionTexts } from './instruction-texts.ts';

/** One imperative step for the floor. A clock runs in seconds beside it and never enters the plan. */
export interface Instruction {
  readonly text: string;
  readonly clock?: { readonly label: string; readonly fromSeconds: number; readonly toSeconds: number };
}

const LAYING: ReadonlySet<WorkKind> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

/** Steps to show at a piece of work. Of a laying step the flash clock is the coating's own, when its sheet is given. */
export function instructions(
  kind: WorkKind,
  sheet?: Pick<DataSheet, 'flashSecondsFrom' | 'flashSecondsTo'>,
): Instruction[] {
  return instructionTexts[kind].map((step) =>
    sheet && step.clock && LAYING.has(kind)
      ? { ...step, clock: { ...step.clock, fromSeconds: sheet.flashSecondsFrom, toSeconds: sheet.flashSecondsTo } }
      : step,
  );
}
