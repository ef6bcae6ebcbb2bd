import type { DataSheet } from '../model/coating.ts';
import type { AirConditions } from '../model/shop.ts';
import { minutesAt } from './data-sheet-at.ts';

/** Whole minutes after laying a layer, at steady conditions. */
export interface SafeTimes {
  readonly recoatMinMinutes: number;
  readonly recoatMaxMinutes: number;
  readonly dustSafeMinutes: number;
  readonly moveSafeMinutes: number;
  readonly waterSafeMinutes: number;
  readonly releaseSafeMinutes: number;
  readonly fullCureMinutes: number;
}

/** When a fresh layer may be recoated, dusted, moved, wetted, released. Rounded to the careful side. */
export function safeTimes(sheet: DataSheet, conditions: AirConditions): SafeTimes {
  return {
    recoatMinMinutes: Math.ceil(minutesAt(sheet, 'recoatMin', conditions)),
    recoatMaxMinutes: Math.floor(minutesAt(sheet, 'recoatMax', conditions)),
    dustSafeMinutes: Math.ceil(minutesAt(sheet, 'dustSafe', conditions)),
    moveSafeMinutes: Math.ceil(minutesAt(sheet, 'moveSafe', conditions)),
    waterSafeMinutes: Math.ceil(minutesAt(sheet, 'waterSafe', conditions)),
    releaseSafeMinutes: Math.ceil(minutesAt(sheet, 'releaseSafe', conditions)),
    fullCureMinutes: Math.ceil(minutesAt(sheet, 'fullCure', conditions)),
  };
}
