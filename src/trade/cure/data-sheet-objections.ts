import type { DataSheet } from '../model/coating.ts';

/** What makes a data sheet contradict itself; each sentence names the field. Empty when it is sound. */
export function dataSheetObjections(sheet: DataSheet): string[] {
  const objections: string[] = [];
  sheet.rows.forEach((row, index) => {
    const risen = (first: keyof typeof row, second: keyof typeof row) => {
      if (row[first] > row[second]) {
        objections.push(`rows[${index}].${first} is ${row[first]}, after ${second} ${row[second]}`);
      }
    };
    risen('recoatMinMinutes', 'recoatMaxMinutes');
    risen('dustSafeMinutes', 'waterSafeMinutes');
    risen('moveSafeMinutes', 'releaseSafeMinutes');
    risen('waterSafeMinutes', 'fullCureMinutes');
    risen('releaseSafeMinutes', 'fullCureMinutes');
  });
  const places = sheet.rows.map((row) => `${row.tempC} deg C, ${row.relativeHumidityPercent} %`);
  const twice = places.find((place, index) => places.indexOf(place) !== index);
  if (twice) objections.push(`rows: ${twice} is given twice`);
  if (sheet.minAirTempC >= sheet.maxAirTempC) objections.push('maxAirTempC must be above minAirTempC');
  if (sheet.minRelativeHumidityPercent >= sheet.maxRelativeHumidityPercent) {
    objections.push('maxRelativeHumidityPercent must be above minRelativeHumidityPercent');
  }
  if (sheet.flashSecondsFrom > sheet.flashSecondsTo)
    objections.push('flashSecondsTo must not be below flashSecondsFrom');
  return objections;
}
