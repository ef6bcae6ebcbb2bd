/** Micrometres a machine pass takes off, as a range. */
export interface FilmCut {
  readonly least: number;
  readonly most: number;
}

/**
 * What one pass takes off clear coat. Common practice: a compounding pass cuts 1 to 3 micrometres, about what a gauge errs by;
 * a finishing pass less than one.
 */
export const commonCuts = {
  compound: { least: 1, most: 3 },
  finish: { least: 0, most: 1 },
} as const satisfies Record<'compound' | 'finish', FilmCut>;

/** Cut expected of a number of passes. */
export function expectedCut(
  passes: { readonly compound: number; readonly finish: number },
  cuts = commonCuts,
): FilmCut {
  return {
    least: passes.compound * cuts.compound.least + passes.finish * cuts.finish.least,
    most: passes.compound * cuts.compound.most + passes.finish * cuts.finish.most,
  };
}
