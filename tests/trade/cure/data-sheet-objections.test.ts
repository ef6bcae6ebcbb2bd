import { expect, it } from 'vitest';
import { dataSheetObjections } from '../../../src/trade/cure/data-sheet-objections.ts';
import { row, sheet } from '../data-sheets.ts';

it('a sheet that does not contradict itself has no objection', () => {
  expect(dataSheetObjections(sheet)).toEqual([]);
});

it.each([
  [
    'a recoat window that closes before it opens',
    { rows: [{ ...row(20, 60, 1), recoatMaxMinutes: 30 }] },
    'rows[0].recoatMinMinutes',
  ],
  [
    'release before the car may be moved',
    { rows: [{ ...row(20, 60, 1), releaseSafeMinutes: 60 }] },
    'rows[0].moveSafeMinutes',
  ],
  ['the same conditions twice', { rows: [row(20, 60, 1), row(20, 60, 2)] }, 'rows:'],
  ['temperature limits crossed', { minAirTempC: 35 }, 'maxAirTempC'],
  ['humidity limits crossed', { maxRelativeHumidityPercent: 20 }, 'maxRelativeHumidityPercent'],
  ['a flash that ends before it begins', { flashSecondsTo: 10 }, 'flashSecondsTo'],
])('%s is named', (_, change, field) => {
  const objections = dataSheetObjections({ ...sheet, ...change });
  expect(objections).toHaveLength(1);
  expect(objections[0]).toContain(field);
});
