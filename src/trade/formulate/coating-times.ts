import type { Interval, Progress } from '../../engine/problem/problem.ts';
import { fitIntervals } from '../conditions/fit-intervals.ts';
import { type ConditionsStep, cureProgress, cureWork } from '../cure/cure-progress.ts';
import { type DataSheetItem, minutesAt } from '../cure/data-sheet-at.ts';
import type { Coating, DataSheet } from '../model/coating.ts';
import type { Frame } from './frame.ts';
import { endOfWork } from './progress-reading.ts';

/** Work and pace of a cure: plain minutes where the air is steady. */
export interface Cure {
  readonly work: number;
  readonly progress: Progress | null;
}

/** `longest` for what must have passed, `shortest` for what must not have. */
type Careful = 'longest' | 'shortest';

/** Times of coatings in the zones of a shop; each is computed once. */
export interface CoatingTimes {
  /** Of a cure in a zone. */
  cure(coating: Coating, item: DataSheetItem, zone: number | null): Cure;
  /**
   * Minutes of an item after an edge in one of the zones. With `since` the edge is a fact and the air from then on is what counts.
   */
  minutes(
    coating: Coating,
    item: DataSheetItem,
    zones: readonly (number | null)[],
    careful: Careful,
    since?: number,
  ): number;
  /** When a coating may be laid in a zone so that its air stays fit until the coating is water-safe. */
  layingWindows(coating: Coating, zone: number | null): Interval[];
}

/** The yard's air is not kept by anybody: where nothing better is known, a mild and damp day. */
export const yardAir = { airTempC: 15, relativeHumidityPercent: 60 };
const yard: readonly ConditionsStep[] = [{ at: 0, conditions: yardAir }];

/** Interpolation in logarithms leaves dust behind the decimal point, which is no minute. */
const dust = 1e-6;
const roundUp = (minutes: number): number => Math.ceil(minutes - dust);
const roundDown = (minutes: number): number => Math.floor(minutes + dust);

export function coatingTimes(frame: Frame): CoatingTimes {
  return new RememberedTimes(frame);
}

class RememberedTimes implements CoatingTimes {
  readonly #frame: Frame;
  readonly #cures = new Map<string, Cure>();
  readonly #minutes = new Map<string, number>();
  readonly #windows = new Map<string, Interval[]>();

  constructor(frame: Frame) {
    this.#frame = frame;
  }

  cure(coating: Coating, item: DataSheetItem, zone: number | null): Cure {
    const key = `${coating.id} ${item} ${zone}`;
    let cure = this.#cures.get(key);
    if (cure === undefined) {
      cure = cureIn(coating.dataSheet, item, this.#air(zone));
      this.#cures.set(key, cure);
    }
    return cure;
  }

  minutes(
    coating: Coating,
    item: DataSheetItem,
    zones: readonly (number | null)[],
    careful: Careful,
    since?: number,
  ): number {
    let extreme = careful === 'longest' ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
    for (const zone of zones) {
      const minutes =
        since === undefined
          ? this.#minutesIn(coating, item, zone, careful)
          : this.#minutesSince(coating, item, zone, careful, since);
      extreme = moreCareful(careful, extreme, minutes);
    }
    return extreme;
  }

  layingWindows(coating: Coating, zone: number | null): Interval[] {
    const key = `${coating.id} ${zone}`;
    let windows = this.#windows.get(key);
    if (windows === undefined) {
      const { horizon } = this.#frame;
      const fit = fitIntervals(coating.dataSheet, this.#air(zone), horizon);
      windows = endedBefore(fit, this.#minutesIn(coating, 'waterSafe', zone, 'longest'), horizon);
      this.#windows.set(key, windows);
    }
    return windows;
  }

  #minutesIn(coating: Coating, item: DataSheetItem, zone: number | null, careful: Careful): number {
    const key = `${coating.id} ${item} ${zone} ${careful}`;
    let minutes = this.#minutes.get(key);
    if (minutes === undefined) {
      minutes = minutesFrom(this.#frame.now, coating.dataSheet, item, this.#air(zone), careful);
      this.#minutes.set(key, minutes);
    }
    return minutes;
  }

  #minutesSince(coating: Coating, item: DataSheetItem, zone: number | null, careful: Careful, since: number): number {
    const { work, progress } = this.cure(coating, item, zone);
    if (progress === null) return this.#minutesIn(coating, item, zone, careful);
    return (endOfWork(progress, since, work) ?? this.#frame.horizon) - since;
  }

  #air(zone: number | null): readonly ConditionsStep[] {
    const given = this.#frame.conditions(zone);
    return given.length > 0 ? given : yard;
  }
}

function cureIn(sheet: DataSheet, item: DataSheetItem, air: readonly ConditionsStep[]): Cure {
  const progress = cureProgress(sheet, item, air);
  if (progress.rate.length > 1) return { work: cureWork(sheet, item), progress };
  return { work: roundUp(minutesAt(sheet, item, air[0]!.conditions)), progress: null };
}

/** Minutes in the least favourable air there will be from now on. */
function minutesFrom(
  now: number,
  sheet: DataSheet,
  item: DataSheetItem,
  air: readonly ConditionsStep[],
  careful: Careful,
): number {
  let extreme = careful === 'longest' ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  for (const [k, { conditions }] of air.entries()) {
    const until = air[k + 1]?.at ?? Number.POSITIVE_INFINITY;
    if (until > now) extreme = moreCareful(careful, extreme, minutesAt(sheet, item, conditions));
  }
  return careful === 'longest' ? roundUp(extreme) : roundDown(extreme);
}

function moreCareful(careful: Careful, one: number, other: number): number {
  return careful === 'longest' ? Math.max(one, other) : Math.min(one, other);
}

/** Intervals that end `minutes` sooner, but for what lasts to the horizon. */
function endedBefore(intervals: readonly Interval[], minutes: number, horizon: number): Interval[] {
  const ended: Interval[] = [];
  for (const { from, to } of intervals) {
    const until = to >= horizon ? to : to - minutes;
    if (from < until) ended.push({ from, to: until });
  }
  return ended;
}
