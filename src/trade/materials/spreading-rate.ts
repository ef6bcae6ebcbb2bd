import type { DataSheet } from '../model/coating.ts';

/**
 * Theoretical spreading rate, in m2 per litre: 1 litre of solids covers 1000 m2 at 1 micrometre of dry film, which is
 * volume solids (%) x 10 / dry film (micrometres). Terms as in ISO 23811.
 */
export function theoreticalSpreadM2PerLitre(volumeSolidsPercent: number, filmMicrometres: number): number {
  return (volumeSolidsPercent * 10) / filmMicrometres;
}

/** What is left of it after the practical loss (applicator, bottle, levelling towel), in m2 per litre; after ISO 23811. */
export function practicalSpreadM2PerLitre(
  sheet: Pick<DataSheet, 'volumeSolidsPercent' | 'filmMicrometresPerLayer' | 'practicalLossPercent'>,
): number {
  const theoretical = theoreticalSpreadM2PerLitre(sheet.volumeSolidsPercent, sheet.filmMicrometresPerLayer);
  return (theoretical * (100 - sheet.practicalLossPercent)) / 100;
}
