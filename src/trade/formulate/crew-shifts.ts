import { measure } from '../calendar/intervals.ts';
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
  const known = new Map<string, readonly CrewShift[]>();
  const shiftsOf: CrewShifts['shiftsOf'] = (crew) => {
    const key = crew
      .map(({ resource }) => resource)
      .sort((a, b) => a - b)
      .join();
    let shifts = known.get(key);
    if (shifts === undefined) {
      const [regular, all] = [crewHours(crew, false), crewHours(crew, true)];
      const { now, horizon } = frame;
      const more = measure(all, now, horizon) > measure(regular, now, horizon);
      shifts = (more ? [regular, all] : [regular]).map((hours) => ({
        progress: frame.progresses.push(hoursAsProgress(hours)) - 1,
        longestStretch: hours.reduce((most, { from, to }) => Math.max(most, to - Math.max(from, now)), 0),
      }));
      known.set(key, shifts);
    }
    return shifts;
  };
  return { shiftsOf, fullProgress: (crew) => shiftsOf(crew).at(-1)!.progress };
}
