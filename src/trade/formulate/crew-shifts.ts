import { type Intervals, measure } from '../calendar/intervals.ts';
import type { Frame } from './frame.ts';
import { crewHours, type Person } from './people.ts';
import { hoursAsProgress } from './progress-reading.ts';

/** The common hours of a crew. */
export interface CrewShift {
  /** Index into the problem's progress functions. */
  readonly progress: number;
  /** Most minutes that lie in one piece from now on. */
  readonly longestStretch: number;
}

export interface CrewShifts {
  /** Ordinary hours; then, where overtime has been authorised for all of them from now on, the hours with it. */
  shiftsOf(crew: readonly Person[]): readonly CrewShift[];
  /** Index of the progress function of all hours, authorised overtime included. */
  fullProgress(crew: readonly Person[]): number;
}

/** Common hours of crews; each is reckoned once. */
export function crewShifts(frame: Frame): CrewShifts {
  return new RememberedShifts(frame);
}

class RememberedShifts implements CrewShifts {
  readonly #frame: Frame;
  readonly #known = new Map<string, readonly CrewShift[]>();

  constructor(frame: Frame) {
    this.#frame = frame;
  }

  shiftsOf(crew: readonly Person[]): readonly CrewShift[] {
    const key = keyOf(crew);
    let shifts = this.#known.get(key);
    if (shifts === undefined) {
      shifts = this.#reckon(crew);
      this.#known.set(key, shifts);
    }
    return shifts;
  }

  fullProgress(crew: readonly Person[]): number {
    return this.shiftsOf(crew).at(-1)!.progress;
  }

  #reckon(crew: readonly Person[]): CrewShift[] {
    const { now, horizon } = this.#frame;
    const regular = crewHours(crew, false);
    const all = crewHours(crew, true);
    const shifts = [this.#shift(regular)];
    if (measure(all, now, horizon) > measure(regular, now, horizon)) shifts.push(this.#shift(all));
    return shifts;
  }

  #shift(hours: Intervals): CrewShift {
    const { progresses, now } = this.#frame;
    let longestStretch = 0;
    for (const { from, to } of hours) longestStretch = Math.max(longestStretch, to - Math.max(from, now));
    return { progress: progresses.push(hoursAsProgress(hours)) - 1, longestStretch };
  }
}

/** The same for the same people, in whatever order. */
function keyOf(crew: readonly Person[]): string {
  const resources: number[] = [];
  for (const { resource } of crew) resources.push(resource);
  return resources.sort(ascending).join();
}

function ascending(a: number, b: number): number {
  return a - b;
}
