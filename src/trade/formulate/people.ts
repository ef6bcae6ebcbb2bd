import type { Budget, Interval, Resource } from '../../engine/problem/problem.ts';
import type { Axis } from '../calendar/axis.ts';
import { type Intervals, intersect, subtract, union } from '../calendar/intervals.ts';
import { addDays, localInstant } from '../calendar/local-instant.ts';
import { type Days, openHours } from '../calendar/open-hours.ts';
import type { CoatingId, TechnicianId } from '../model/ids.ts';
import type { Technician } from '../model/people.ts';
import type { DayException, LocalDate } from '../model/time.ts';
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
  const people: Person[] = [];
  let budgets = 0;
  for (const [resource, technician] of book.technicians.entries()) {
    const hours = hoursOf(technician, axis, days, shut, arranged.get(technician.id) ?? []);
    const polishes = technician.skills.some(isPolishing);
    people.push({
      technician,
      resource,
      ...hours,
      ...(polishes ? { polishingBudget: budgets++ } : {}),
      certifiedUntil: (coating) => certifiedUntil(technician, coating, axis, days.zone),
    });
  }
  return people;
}

function isPolishing({ skill }: Technician['skills'][number]): boolean {
  return skill === 'polishing';
}

function hoursOf(
  technician: Technician,
  axis: Axis,
  days: Days,
  shut: readonly DayException[],
  arranged: readonly Interval[],
): Pick<Person, 'open' | 'regular'> {
  const own = new Set<LocalDate>();
  for (const { date } of technician.exceptions) own.add(date);
  const exceptions = [...technician.exceptions];
  for (const exception of shut) if (!own.has(exception.date)) exceptions.push(exception);
  const hours = openHours(days, technician.shifts, exceptions);
  const shifts = axis.toIntervals(hours.open);
  const open = union([...shifts, ...arranged]);
  const overtime = union([...axis.toIntervals(hours.overtime), ...subtract(open, shifts)]);
  return { open, regular: subtract(open, overtime) };
}

/** Of several certificates for a coating the last to run out counts, to the end of its day. */
function certifiedUntil(
  { certificates }: Technician,
  coating: CoatingId,
  axis: Axis,
  zone: string,
): number | undefined {
  let last: LocalDate | undefined;
  for (const { coatingId, expiresOn } of certificates) {
    if (coatingId === coating && (last === undefined || expiresOn > last)) last = expiresOn;
  }
  if (last === undefined) return undefined;
  return axis.toMinute(localInstant(addDays(last, 1), '00:00', zone, 'start'), 'floor');
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
  let common: Intervals | undefined;
  for (const { open, regular } of crew) {
    const hours = withOvertime ? open : regular;
    common = common === undefined ? hours : intersect(common, hours);
  }
  return common ?? [];
}
