import type { Progress } from '../../engine/problem/problem.ts';
import type { DataSheet } from '../model/coating.ts';
import type { AirConditions } from '../model/shop.ts';
import { type DataSheetItem, minutesAt } from './data-sheet-at.ts';

/** Conditions from minute `at` until the next entry's `at`; the last one for ever. Sorted. */
export interface ConditionsStep {
  readonly at: number;
  readonly conditions: AirConditions;
}

/** Rates are thousandths of the speed at these conditions. */
const NOMINAL: AirConditions = { airTempC: 20, relativeHumidityPercent: 50 };

/** Work content of a cure in the units of `cureProgress`: a thousand for each minute it takes at 20 deg C and 50 %. */
export function cureWork(sheet: DataSheet, item: DataSheetItem): number {
  return Math.ceil(minutesAt(sheet, item, NOMINAL) * 1000);
}

/**
 * Progress of a cure under changing conditions: the sum of dt / cure time (T, RH), as a rate in thousandths of
 * the nominal speed. Rates are rounded down, so that no cure is counted finished early, but never to nothing: however cold
 * it is, the plan must end.
 */
export function cureProgress(sheet: DataSheet, item: DataSheetItem, steps: readonly ConditionsStep[]): Progress {
  const nominal = minutesAt(sheet, item, NOMINAL);
  const at: number[] = [];
  const rate: number[] = [];
  for (const step of steps) {
    const speed = Math.max(1, Math.floor((1000 * nominal) / minutesAt(sheet, item, step.conditions) + 1e-9));
    if (rate.at(-1) === speed) continue;
    at.push(step.at);
    rate.push(speed);
  }
  return { at, rate };
}
