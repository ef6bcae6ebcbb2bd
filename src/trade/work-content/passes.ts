import type { PaintHardness } from '../model/vehicle.ts';
import { commonNorms } from './common-norms.ts';
import type { WorkNorms } from './work-norms.ts';

/**
 * Machine passes a panel needs: compounding by defect grade and paint hardness, then one finishing pass.
 * Common practice: deep defects and hard paint need more; grade 0 needs none, grade 1 a finishing pass only.
 */
export function machinePasses(
  defects: number,
  hardness: PaintHardness,
  norms: WorkNorms = commonNorms,
): { compound: number; finish: number } {
  return { compound: norms.compoundPasses[hardness][defects] ?? 0, finish: defects > 0 ? 1 : 0 };
}

/** An approved scope counts all machine passes; the last of them is the finishing one. */
export function scopedPasses(correctionPasses: number): { compound: number; finish: number } {
  return { compound: Math.max(0, correctionPasses - 1), finish: correctionPasses > 0 ? 1 : 0 };
}
