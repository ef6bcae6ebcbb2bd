import type { Interval, Progress } from '../../engine/problem/problem.ts';
import { fitIntervals } from '../conditions/fit-intervals.ts';
import { cureProgress, cureWork } from '../cure/cure-progress.ts';
import { type DataSheetItem, minutesAt } from '../cure/data-sheet-at.ts';
import type { Coating } from '../model/coating.ts';
import type { Frame } from './frame.ts';
import { endOfWork } from './progress-reading.ts';

/** Times of coatings in the zones of a shop; each is computed once. */
export interface CoatingTimes {
  /** Work and pace of a cure in a zone: plain minutes where the air is steady. */
  cure(coating: Coating, item: DataSheetItem, zone: number | null): { work: number; progress: Progress | null };
  /**
   * Minutes of an item after an edge in one of the zones. `careful`: `longest` for what must have passed, `shortest` for
   * what must not have. With `since` the edge is a fact and the air from then on is what counts.
   */
  minutes(
    coating: Coating,
    item: DataSheetItem,
    zones: readonly (number | null)[],
    careful: 'longest' | 'shortest',
    since?: number,
  ): number;
  /** When a coating may be laid in a zone so that its air stays fit until the coating is water-safe. */
  layingWindows(coating: Coating, zone: number | null): Interval[];
}

/** The yard's air is not kept by anybody: where nothing better is known, a mild and damp day. */
export const yardAir = { airTempC: 15, relativeHumidityPercent: 60 };

/** Interpolation in logarithms leaves dust behind the decimal point, which is no minute. */
const dust = 1e-6;
const roundUp = (minutes: number): number => Math.ceil(minutes - dust);
const roundDown = (minutes: number): number => Math.floor(minutes + dust);

export function coatingTimes(frame: Frame): CoatingTimes {
  const known = new Map<string, unknown>();
  const once = <T>(key: string, make: () => T): T => {
    if (!known.has(key)) known.set(key, make());
    return known.get(key) as T;
  };
  const steps = (zone: number | null) => {
    const given = frame.conditions(zone);
    return given.length > 0 ? given : [{ at: 0, conditions: yardAir }];
  };
  const cure: CoatingTimes['cure'] = (coating, item, zone) =>
    once(`cure ${coating.id} ${item} ${zone}`, () => {
      const { dataSheet } = coating;
      const progress = cureProgress(dataSheet, item, steps(zone));
      const work = cureWork(dataSheet, item);
      if (progress.rate.length > 1) return { work, progress };
      return { work: roundUp(minutesAt(dataSheet, item, steps(zone)[0]!.conditions)), progress: null };
    });
  const minutesIn = (coating: Coating, item: DataSheetItem, zone: number | null, careful: 'longest' | 'shortest') =>
    once(`minutes ${coating.id} ${item} ${zone} ${careful}`, () => {
      const all = steps(zone);
      const ahead = all.filter((_, k) => (all[k + 1]?.at ?? Number.POSITIVE_INFINITY) > frame.now);
      const minutes = ahead.map(({ conditions }) => minutesAt(coating.dataSheet, item, conditions));
      return careful === 'longest' ? roundUp(Math.max(...minutes)) : roundDown(Math.min(...minutes));
    });
  const minutesSince = (
    coating: Coating,
    item: DataSheetItem,
    zone: number | null,
    careful: 'longest' | 'shortest',
    since: number,
  ) => {
    const { work, progress } = cure(coating, item, zone);
    if (progress === null) return minutesIn(coating, item, zone, careful);
    return (endOfWork(progress, since, work) ?? frame.horizon) - since;
  };
  return {
    cure,
    minutes: (coating, item, zones, careful, since) => {
      const minutes = zones.map((zone) =>
        since === undefined
          ? minutesIn(coating, item, zone, careful)
          : minutesSince(coating, item, zone, careful, since),
      );
      return careful === 'longest' ? Math.max(...minutes) : Math.min(...minutes);
    },
    layingWindows: (coating, zone) =>
      once(`laying ${coating.id} ${zone}`, () => {
        const fit = fitIntervals(coating.dataSheet, steps(zone), frame.horizon);
        const waterSafe = minutesIn(coating, 'waterSafe', zone, 'longest');
        return fit
          .map(({ from, to }) => ({ from, to: to >= frame.horizon ? to : to - waterSafe }))
          .filter(({ from, to }) => from < to);
      }),
  };
}
