import type { DataSheet, DataSheetRow } from '../../src/trade/model/coating.ts';

/** An invented row: times at 20 deg C scaled by a factor. */
export function row(tempC: number, relativeHumidityPercent: number, factor: number): DataSheetRow {
  return {
    tempC,
    relativeHumidityPercent,
    recoatMinMinutes: 60 * factor,
    recoatMaxMinutes: 240 * factor,
    dustSafeMinutes: 60 * factor,
    moveSafeMinutes: 120 * factor,
    waterSafeMinutes: 480 * factor,
    releaseSafeMinutes: 720 * factor,
    fullCureMinutes: 10_080 * factor,
  };
}

/** An invented sheet: doubles its times from 20 to 10 deg C, halves them at 30, slower by half in dry air. */
export const sheet: DataSheet = {
  rows: [row(10, 35, 3), row(20, 35, 1.5), row(30, 35, 0.75), row(10, 60, 2), row(20, 60, 1), row(30, 60, 0.5)],
  cure: 'moisture',
  minAirTempC: 10,
  maxAirTempC: 30,
  minRelativeHumidityPercent: 30,
  maxRelativeHumidityPercent: 70,
  minDewPointMarginK: 3,
  maxPanelTempC: 40,
  flashSecondsFrom: 30,
  flashSecondsTo: 180,
  volumeSolidsPercent: 70,
  filmMicrometresPerLayer: 1.2,
  practicalLossPercent: 40,
  bottleMillilitres: 50,
  openBottleMinutes: 20_160,
  lampMinutesPerArea: 12,
};
