import type { Budget, Interval, Resource } from '../../engine/problem/problem.ts';
import type { Axis } from '../calendar/axis.ts';
import { type Intervals, intersect, subtract, union } from '../calendar/intervals.ts';
import { addDays, localInstant } from '../calendar/local-instant.ts';
import { type Days, openHours } from '../calendar/open-hours.ts';
import type { CoatingId, TechnicianId } from '../model/ids.ts';
import type { Technician } from '../model/people.ts';
import type { Book } from './book.ts';

/** A technician as the engine sees one. */
export interface Person {
  readonly technician: Technician;
  /** Index into the problem's resources. */
  readonly resource: number;
  /** Shifts with authorised overtime. */
  readonly open: Intervals;
  /** Shifts alone. */
  readonly regular: Intervals;
  /** Index of the polishing budget; people who do not polish have none. */
  readonly polishingBudget?: number;
  /** Minute at which the certificate for a coating runs out; undefined when there is none. */
  certifiedUntil(coating: CoatingId): number | undefined;
}

/**
 * Technicians with their hours. On a day the whole shop is shut nobody works, unless the technician's own hours say
 * otherwise for that day. An hour arranged with a named person outside the shifts is authorised overtime of that person.
 */
export function peopleOf(
  book: Book,
  axis: Axis,
  days: Days,
  arranged: ReadonlyMap<TechnicianId, readonly Interval[]>,
): Person[] {
  const shut = book.shop.exceptions.filter(({ kind, parts }) => kind === 'off' && parts.length === 0);
  let budgets = 0;
  return book.technicians.map((technician, resource) => {
    const own = new Set(technician.exceptions.map(({ date }) => date));
    const exceptions = [...technician.exceptions, ...shut.filter(({ date }) => !own.has(date))];
    const hours = openHours(days, technician.shifts, exceptions);
    const shifts = axis.toIntervals(hours.open);
    const open = union([...shifts, ...(arranged.get(technician.id) ?? [])]);
    const overtime = union([...axis.toIntervals(hours.overtime), ...subtract(open, shifts)]);
    const polishes = technician.skills.some(({ skill }) => skill === 'polishing');
    return {
      technician,
      resource,
      open,
      regular: subtract(open, overtime),
      ...(polishes ? { polishingBudget: budgets++ } : {}),
      certifiedUntil: (coating) => {
        const last = technician.certificates
          .filter(({ coatingId }) => coatingId === coating)
          .map(({ expiresOn }) => expiresOn)
          .sort()
          .at(-1);
        if (last === undefined) return undefined;
        return axis.toMinute(localInstant(addDays(last, 1), '00:00', days.zone, 'start'), 'floor');
      },
    };
  });
}

/** A person has 100; hands-on work takes all of it. */
export function personResource(person: Person): Resource {
  const overtime = subtract(person.open, person.regular);
  return {
    name: person.technician.name,
    capacity: 100,
    kind: 'person',
    open: person.open,
    ...(overtime.length > 0 ? { overtime } : {}),
  };
}

/** Machine polishing is capped for one person and day: 300-360 minutes are common practice. */
export function polishingBudgets(people: readonly Person[], dayWindows: Intervals, limit: number): Budget[] {
  return people
    .filter(({ polishingBudget }) => polishingBudget !== undefined)
    .map(({ technician }) => ({ name: `polishing, ${technician.name}`, windows: dayWindows, limit }));
}

/** Hours in which a whole crew is there. */
export function crewHours(crew: readonly Person[], withOvertime: boolean): Intervals {
  const [first, ...others] = crew.map((person) => (withOvertime ? person.open : person.regular));
  return others.reduce<Intervals>((common, hours) => intersect(common, hours), first ?? []);
}
