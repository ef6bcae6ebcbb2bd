import type { DataSheet, DataSheetRow } from '../model/coating.ts';
import type { StepDuration } from '../model/recipe.ts';
import type { AirConditions } from '../model/shop.ts';

export type DataSheetItem = Extract<StepDuration, { by: 'dataSheet' }>['item'];

const columnOf = {
  recoatMin: 'recoatMinMinutes',
  recoatMax: 'recoatMaxMinutes',
  dustSafe: 'dustSafeMinutes',
  moveSafe: 'moveSafeMinutes',
  waterSafe: 'waterSafeMinutes',
  releaseSafe: 'releaseSafeMinutes',
  fullCure: 'fullCureMinutes',
} as const satisfies Record<DataSheetItem, keyof DataSheetRow>;

/** Below this humidity a coating that cures with the air's moisture is slowed; common practice says 30-40 %. */
const DRY_AIR_PERCENT = 40;

/**
 * Minutes the data sheet gives for one item at a temperature and humidity, to a millionth: exact on the sheet's rows.
 *
 * Between rows the logarithm of the time is interpolated, in temperature first and then in humidity: reaction times are
 * close to exponential in temperature over a few tens of kelvins (Arrhenius). Outside the rows no speed is credited
 * that the sheet does not state: hotter or more humid than the last row counts as that row, while colder than
 * the first row doubles the time for each 10 K (van 't Hoff's rule of thumb). Drier than the first row, a moisture-cured
 * coating slows in proportion to the humidity once that is under 40 %. The panel's temperature counts where it is known.
 */
export function minutesAt(sheet: DataSheet, item: DataSheetItem, conditions: AirConditions): number {
  const column = columnOf[item];
  const tempC = conditions.panelTempC ?? conditions.airTempC;
  const humidity = conditions.relativeHumidityPercent;
  const points: Point[] = [];
  for (const [at, rows] of rowsByHumidity(sheet))
    points.push({ at, log: logMinutesAtTemperature(rows, column, tempC) });
  points.sort(byPosition);
  const driest = points[0]!.at;
  const dryFactor = sheet.cure === 'moisture' ? slowedByDryAir(humidity, driest) : 1;
  return Math.round(Math.exp(interpolate(points, humidity)) * dryFactor * 1e6) / 1e6;
}

/** A place on an axis of the sheet, and the logarithm of the minutes there. */
interface Point {
  readonly at: number;
  readonly log: number;
}

function byPosition(one: Point, other: Point): number {
  return one.at - other.at;
}

function rowsByHumidity({ rows }: DataSheet): Map<number, DataSheetRow[]> {
  const byHumidity = new Map<number, DataSheetRow[]>();
  for (const row of rows) {
    const known = byHumidity.get(row.relativeHumidityPercent);
    if (known === undefined) byHumidity.set(row.relativeHumidityPercent, [row]);
    else known.push(row);
  }
  return byHumidity;
}

function logMinutesAtTemperature(
  rows: readonly DataSheetRow[],
  column: (typeof columnOf)[DataSheetItem],
  tempC: number,
): number {
  const points: Point[] = [];
  for (const row of rows) points.push({ at: row.tempC, log: Math.log(Math.max(1, row[column])) });
  points.sort(byPosition);
  const kelvinsTooCold = Math.max(0, points[0]!.at - tempC);
  return interpolate(points, tempC) + Math.LN2 * (kelvinsTooCold / 10);
}

function slowedByDryAir(humidity: number, driestRow: number): number {
  return Math.max(1, Math.min(DRY_AIR_PERCENT, driestRow) / Math.max(1, humidity));
}

/** Linear between points sorted by `at`; constant outside. */
function interpolate(points: readonly Point[], at: number): number {
  let above = 0;
  while (above < points.length && points[above]!.at < at) above++;
  if (above === points.length) return points.at(-1)!.log;
  if (above === 0) return points[0]!.log;
  const low = points[above - 1]!;
  const high = points[above]!;
  return low.log + ((high.log - low.log) * (at - low.at)) / (high.at - low.at);
}
