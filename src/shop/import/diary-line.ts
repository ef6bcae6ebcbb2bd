import { DateTime } from 'luxon';
import { z } from 'zod';
import { AddOn, type Recipe } from '../../trade/model/recipe.ts';
import type { Instant } from '../../trade/model/time.ts';
import { VehicleClass } from '../../trade/model/vehicle.ts';
import { BookingRequest } from '../booking/booking-request.ts';

/** What is wrong with a cell; `line` 1 is the header. */
export interface DiaryFault {
  readonly line: number;
  readonly column: string;
  readonly text: string;
}

/** One line of the diary as a booking that was already told to the customer. */
export interface DiaryLine {
  readonly line: number;
  readonly request: BookingRequest;
  readonly dropOffAt: Instant;
  readonly promisedPickupAt: Instant | null;
}

const number = (from: number, to: number) => z.coerce.number().int().min(from).max(to);

/** Reads one line of a diary, cell by cell; every bad cell is a fault. */
export function readDiaryLine(
  line: number,
  cell: (name: string) => string,
  recipes: readonly Recipe[],
  zone: string,
  now: Instant,
): { line: DiaryLine; faults: DiaryFault[] } {
  const faults: DiaryFault[] = [];
  const fault = (column: string, text: string) => faults.push({ line, column, text });
  const whole = (column: string, from: number, to: number, otherwise: number | null): number => {
    const text = cell(column);
    if (text === '' && otherwise !== null) return otherwise;
    const read = number(from, to).safeParse(text === '' ? Number.NaN : text);
    if (read.success) return read.data;
    fault(column, `"${text}" is not a whole number from ${from} to ${to}.`);
    return from;
  };
  const time = (column: string, required: boolean): Instant | null => {
    const text = cell(column);
    if (text === '' && !required) return null;
    const read = DateTime.fromISO(text.replace(' ', 'T'), { zone });
    if (read.isValid && /\d[T ]\d\d:\d\d/.test(text)) return read.toMillis() as Instant;
    fault(column, `"${text}" is not a time like 2026-03-02 08:30.`);
    return null;
  };
  const one = <T extends string>(column: string, options: readonly T[], text: string): T => {
    if (options.includes(text as T)) return text as T;
    fault(column, `"${text}" is none of ${options.join(', ')}.`);
    return options[0]!;
  };
  const recipe = recipes.find((each) => each.id === cell('recipe') || each.name === cell('recipe'));
  if (recipe === undefined) fault('recipe', `There is no recipe "${cell('recipe')}".`);
  const vehicleClass = one('class', VehicleClass.options, cell('class').toLowerCase());
  const addOns = cell('add-ons')
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '')
    .map((word) => one('add-ons', AddOn.options, word));
  const dropOffAt = time('drop-off', true);
  const promisedPickupAt = time('pickup', false);
  if (dropOffAt !== null && dropOffAt < now)
    fault('drop-off', 'It lies in the past; only what is to come is brought in.');
  if (dropOffAt !== null && promisedPickupAt !== null && promisedPickupAt <= dropOffAt) {
    fault('pickup', 'It comes before the drop-off.');
  }
  const draft = {
    customer: { name: cell('customer'), phone: cell('phone'), email: cell('email') },
    vehicle: {
      class: vehicleClass,
      description: cell('vehicle'),
      registration: cell('registration'),
      colour: cell('colour'),
      lengthMm: whole('length mm', 1000, 9000, null),
      heightMm: whole('height mm', 500, 4000, null),
      paintHardness: null,
      repaints: [],
    },
    condition: {
      soil: whole('soil', 0, 3, 1),
      defects: whole('defects', 0, 4, 2),
      brakeDust: whole('soil', 0, 3, 1),
      minerals: false,
      tar: false,
    },
    recipeId: recipe?.id ?? 'unknown',
    addOns,
    earliestDropOff: dropOffAt ?? now,
    wantedPickupAt: promisedPickupAt,
    notes: cell('notes'),
  };
  const request = BookingRequest.safeParse(draft);
  if (!request.success) {
    for (const issue of request.error.issues) fault(columnOf(issue.path), `${issue.message}.`);
  }
  const unique = faults.filter(
    (each, index) => faults.findIndex((other) => other.column === each.column && other.text === each.text) === index,
  );
  const value = request.success ? request.data : (draft as unknown as BookingRequest);
  return { line: { line, request: value, dropOffAt: dropOffAt ?? now, promisedPickupAt }, faults: unique };
}

/** The column a field of the request was read from. */
export function columnOf(path: readonly PropertyKey[]): string {
  const field = path.join('.');
  const from: Readonly<Record<string, string>> = {
    'customer.name': 'customer',
    'customer.phone': 'phone',
    'customer.email': 'email',
    'vehicle.description': 'vehicle',
    'vehicle.registration': 'registration',
    'vehicle.colour': 'colour',
    'vehicle.class': 'class',
    'vehicle.lengthMm': 'length mm',
    'vehicle.heightMm': 'height mm',
    recipeId: 'recipe',
    dropOffAt: 'drop-off',
    addOns: 'add-ons',
    notes: 'notes',
  };
  return from[field] ?? (field.startsWith('addOns') ? 'add-ons' : field);
}
