import { scenarioSeed, streamOf, uniform } from '../../../promise/simulate/seeded-draws.ts';
import type { BookTemplateEntry } from '../../../trade/demo/demo-book.ts';
import type { PastTemplate } from '../../../trade/demo/past-template.ts';
import type { Instant } from '../../../trade/model/time.ts';
import type { PaintHardness } from '../../../trade/model/vehicle.ts';
import { BookingRequest } from '../../booking/booking-request.ts';

/** A car as it was booked in the past. */
export interface PastBooking {
  readonly request: BookingRequest;
  readonly bookedAt: Instant;
  readonly dropOffAt: Instant;
}

const DAY_MS = 24 * 3_600_000;
const QUARTER_MS = 15 * 60_000;
const DAYS_A_WEEK = 5;
const LAST_DAYS = 2;
/** Quarters of an hour after opening in which cars are brought: short visits all day, others in the morning. */
const SHORT_QUARTERS = 28;
const LONG_QUARTERS = 12;
const SHORT = new Set<string>(['walkInWash', 'maintenance', 'afterCheck']);
const HARDNESS: readonly PaintHardness[] = ['medium', 'hard', 'soft', 'hard', 'medium'];

/**
 * Cars of the past, in the order in which they came: the vehicles of the book's own bookings again, for other customers, with what was
 * found on them drawn anew.
 *
 * @param openings of the working days the past has, oldest first.
 */
export function pastBookings(
  template: PastTemplate,
  book: readonly BookTemplateEntry[],
  openings: readonly Instant[],
): PastBooking[] {
  const luck = scenarioSeed(template.seed, 0);
  const drawn: (Omit<PastBooking, 'request'> & { readonly entry: BookTemplateEntry; readonly name: string })[] = [];
  for (let week = 0; week < template.weeks; week++) {
    for (const { recipeId, cars } of template.carsAWeek) {
      const alike = book.filter((entry) => entry.recipeId === recipeId);
      const ofWeek = Math.floor((week + 1) * cars) - Math.floor(week * cars);
      for (let k = 0; k < ofWeek && alike.length > 0; k++) {
        const name = `${week} ${recipeId} ${k}`;
        const draw = (what: string) => uniform(luck, streamOf(`${name} ${what}`));
        // Whoever stays for days comes early in the last week, so that they are gone when the demo's own cars come.
        const days = week === template.weeks - 1 && !SHORT.has(recipeId) ? LAST_DAYS : DAYS_A_WEEK;
        const opening = openings[week * DAYS_A_WEEK + Math.floor(draw('day') * days)];
        if (opening === undefined) continue;
        const quarters = Math.floor(draw('hour') * (SHORT.has(recipeId) ? SHORT_QUARTERS : LONG_QUARTERS));
        const bookedAt = (opening - Math.ceil((SHORT.has(recipeId) ? 4 : 12) * draw('booked')) * DAY_MS) as Instant;
        const entry = alike[Math.floor(draw('car') * alike.length)]!;
        drawn.push({ bookedAt, dropOffAt: (opening + quarters * QUARTER_MS) as Instant, entry, name });
      }
    }
  }
  drawn.sort((a, b) => a.dropOffAt - b.dropOffAt);
  return drawn.map(({ bookedAt, dropOffAt, entry, name }, index) => {
    const draw = (what: string, upTo: number) => Math.floor(uniform(luck, streamOf(`${name} ${what}`)) * upTo);
    const number = String(book.length + index + 1).padStart(2, '0');
    const hardness = entry.condition.defects > 0 ? HARDNESS[draw('hardness', HARDNESS.length)]! : null;
    const request = BookingRequest.parse({
      customer: { name: `Customer ${number} (invented)`, phone: '', email: `customer${number}@example.invalid` },
      vehicle: { ...entry.vehicle, registration: `DEMO-${number}`, paintHardness: hardness },
      condition: {
        ...entry.condition,
        soil: Math.min(3, Math.max(0, entry.condition.soil - 1 + draw('soil', 3))),
        defects: entry.condition.defects === 0 ? 0 : Math.min(3, entry.condition.defects + draw('defects', 2)),
      },
      recipeId: entry.recipeId,
      addOns: entry.addOns,
      priority: entry.priority,
      earliestDropOff: dropOffAt,
    });
    return { request, bookedAt, dropOffAt };
  });
}
