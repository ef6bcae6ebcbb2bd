import { minutesAt } from '../../trade/cure/data-sheet-at.ts';
import type { Coating } from '../../trade/model/coating.ts';
import type { RecipeStep } from '../../trade/model/recipe.ts';
import type { AirZone, Place } from '../../trade/model/shop.ts';
import type { CarOnFloor } from '../floor/gates/situation.ts';
import { endedAt } from '../floor/what-happened.ts';
import type { WorkSpan } from './work-spans.ts';

const MINUTE_MS = 60_000;

/** What a shop has that says how long a coating takes where. */
export interface Drying {
  readonly coatings: readonly Coating[];
  readonly places: readonly Place[];
  readonly airZones: readonly AirZone[];
}

/**
 * Dwell, drying and cure of a car that no plan has any more, and that nobody records: each from the end of the work before it for as long as it
 * takes, by the data sheet in the air its place is kept at, or until the next work on the car begins or it leaves the place.
 */
export function workByItself({ happened, recipe }: CarOnFloor, shop: Drying): WorkSpan[] {
  const recorded = (key: string) => happened.work.get(key);
  const insteadDone = new Set(
    recipe.branches.flatMap(({ alternatives }) => {
      const done = alternatives.find((steps) => steps.some((key) => recorded(key) !== undefined));
      return done === undefined ? [] : alternatives.filter((steps) => steps !== done).flat();
    }),
  );
  const begins = [...happened.work.values()].flatMap(({ pieces }) =>
    pieces.slice(0, 1).map(({ from }) => from as number),
  );
  const spans: WorkSpan[] = [];
  let since: number | null = null;
  for (const step of recipe.steps) {
    const record = recorded(step.key);
    if (record !== undefined) {
      since = endedAt(record);
      continue;
    }
    if (since === null || !goesOnAlone(step) || insteadDone.has(step.key)) continue;
    const from = since;
    const stay = happened.stays.find((each) => each.from <= from && (each.to === null || from < each.to));
    if (stay === undefined) continue;
    const next = Math.min(stay.to ?? Number.POSITIVE_INFINITY, ...begins.filter((begin) => begin >= from));
    const to = Math.min(from + minutesOf(step, stay.placeId, shop) * MINUTE_MS, next);
    if (to > from) spans.push({ from, to, placeId: stay.placeId, people: [], sharePercent: 0 });
    since = to;
  }
  return spans;
}

/** A customer's answer needs no bay, and a remedy that nobody recorded was none. */
function goesOnAlone({ attendance, kind, presence }: RecipeStep): boolean {
  return attendance.kind === 'unattended' && kind !== 'customerAnswer' && presence.when !== 'remedy';
}

function minutesOf(
  { duration, coatingId }: RecipeStep,
  placeId: string,
  { coatings, places, airZones }: Drying,
): number {
  if (duration.by === 'minutes') return duration.minutes;
  const sheet = coatings.find(({ id }) => id === coatingId)?.dataSheet;
  const zone = places.find(({ id }) => id === placeId)?.airZoneId;
  const air = airZones.find(({ id }) => id === zone)?.setPoint;
  return duration.by === 'dataSheet' && sheet !== undefined && air !== undefined
    ? minutesAt(sheet, duration.item, air)
    : 0;
}
