import { z } from 'zod';
import { PlaceId, RecipeId, TechnicianId } from '../../../trade/model/ids.ts';
import { Instant, LocalDate } from '../../../trade/model/time.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { listOf } from '../../wire/reply.ts';

const minutes = z.int();
const monday = LocalDate.optional().describe("A week's Monday, YYYY-MM-DD; this week's when left out.");

export const WeekQuery = z.object({ monday });

export const TrendQuery = z.object({
  monday,
  before: z.coerce.number().int().min(0).max(26).default(3).describe('Weeks before that one.'),
  after: z.coerce.number().int().min(0).max(4).default(2).describe('Weeks after it.'),
});

export const WeeksQuery = z.object({
  monday,
  weeks: z.coerce.number().int().min(1).max(53).default(8).describe('Whole weeks, that one the last.'),
});

const bayParts = {
  open: minutes,
  worked: minutes,
  curing: minutes,
  waiting: minutes,
  blocked: minutes,
  empty: minutes,
};

export const WeekReply = onTheWire(
  z.object({
    monday: LocalDate,
    from: Instant,
    to: Instant,
    bays: listOf(z.object({ placeId: PlaceId, name: z.string(), ...bayParts })),
    people: listOf(
      z.object({
        technicianId: TechnicianId,
        name: z.string(),
        open: minutes,
        worked: minutes,
        watched: minutes,
        free: minutes,
        overtime: minutes,
      }),
    ),
    promises: z.object({ due: z.int(), kept: z.int(), broken: z.int(), open: z.int() }),
  }),
);

export const TrendReply = onTheWire(
  z.object({
    weeks: listOf(
      z.object({
        monday: LocalDate,
        ...bayParts,
        promisesDue: z.int(),
        promisesKept: z.int(),
        promisesBroken: z.int(),
        promisesOpen: z.int(),
      }),
    ),
  }),
);

const RevenueLine = z.object({
  cars: z.int(),
  revenueMinor: z.int().describe('In minor units of the currency; the price agreed last.'),
  bayMinutes: minutes.describe('Opening hours in which these cars stood in bays, over their whole visits.'),
  perBayHourMinor: z.int().nullable().describe('Revenue for each hour a bay was held; null when none was.'),
});

export const RevenueReply = onTheWire(
  z.object({
    firstMonday: LocalDate,
    from: Instant,
    to: Instant,
    currency: z.string(),
    recipes: listOf(RevenueLine.extend({ recipeId: RecipeId, name: z.string() })),
    all: RevenueLine,
  }),
);

const EstimateLine = z.object({
  id: z.string(),
  name: z.string(),
  records: z.int(),
  plannedMinutes: minutes,
  workedMinutes: minutes,
  percent: z.number().describe('Worked for each 100 planned minutes: the geometric mean over the operations.'),
  fromPercent: z.number().nullable().describe("95 % interval (Student's t, of logarithms); null with one record."),
  toPercent: z.number().nullable(),
  clear: z.boolean().describe('Five records or more, and 100 lies outside the interval.'),
});

export const EstimatesReply = onTheWire(
  z.object({
    firstMonday: LocalDate,
    from: Instant,
    to: Instant,
    kinds: listOf(EstimateLine),
    recipes: listOf(EstimateLine),
    people: listOf(EstimateLine),
    all: EstimateLine.nullable(),
  }),
);
