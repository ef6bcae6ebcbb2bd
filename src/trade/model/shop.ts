import { z } from 'zod';
import { MessageKind } from './customer-message.ts';
import { AirZoneId, PlaceId, ShopId } from './ids.ts';
import { AIR_LABELS } from './lists.ts';
import { DayException, Minutes, TimeZone, WeeklyHours } from './time.ts';

/** States an operation or a wet surface puts on the air of its zone. */
export const AirLabel = z.enum(AIR_LABELS);
export type AirLabel = z.infer<typeof AirLabel>;

/** Whether two kinds of air may share a zone: never, or behind a barrier that the shop puts up. */
export const AirRule = z.object({
  first: AirLabel,
  second: AirLabel,
  policy: z.enum(['forbid', 'allowWithBarrier']),
  /** Minutes the air needs after `first` before `second` may begin, and the other way round. */
  settleAfterFirstMinutes: Minutes,
  settleAfterSecondMinutes: Minutes,
});
export type AirRule = z.infer<typeof AirRule>;

/** Air of a room, where no reading or forecast says better. */
export const AirConditions = z.object({
  airTempC: z.number().min(-40).max(60),
  relativeHumidityPercent: z.number().min(0).max(100),
  /** Panels follow the room after hours; where they do not, say so. Absent: as the air. */
  panelTempC: z.number().min(-40).max(90).optional(),
});
export type AirConditions = z.infer<typeof AirConditions>;

export const AirZone = z.object({
  id: AirZoneId,
  name: z.string().min(1).max(80),
  setPoint: AirConditions,
  rules: z.array(AirRule),
});
export type AirZone = z.infer<typeof AirZone>;

export const Capability = z.enum(['wet', 'correction', 'coating', 'curing', 'interior', 'lift', 'hold']);
export type Capability = z.infer<typeof Capability>;

/** A bay, or one space of a parking place: it stands one car. */
export const Place = z.object({
  id: PlaceId,
  name: z.string().min(1).max(80),
  kind: z.enum(['bay', 'parking']),
  capabilities: z.array(Capability),
  indoor: z.boolean(),
  maxLengthMm: z.int().positive(),
  maxHeightMm: z.int().positive(),
  airZoneId: AirZoneId.nullable(),
  turnaroundMinutes: Minutes,
  /** Places that must be empty while a car moves in to or out of this one (tandem). */
  blockedBy: z.array(PlaceId),
  closures: z.array(DayException),
});
export type Place = z.infer<typeof Place>;

/** What customers read of the shop, and what is mailed to them by itself. */
export const ToCustomers = z.object({
  /** Writes dates, hours and money; the words are English. */
  locale: z.string().regex(/^en-[A-Z]{2}$/, 'a locale of English, such as en-GB'),
  phone: z.string().max(40),
  address: z.string().max(200),
  automaticMessages: z.array(MessageKind),
  /** How long before the drop-off it is reminded of. */
  reminderHours: z.int().min(1).max(168),
});
export type ToCustomers = z.infer<typeof ToCustomers>;

export const Shop = z.object({
  id: ShopId,
  name: z.string().min(1).max(80),
  timeZone: TimeZone,
  /** ISO 4217. Amounts are integers of its minor unit. */
  currency: z.string().regex(/^[A-Z]{3}$/),
  hours: WeeklyHours,
  exceptions: z.array(DayException),
  /** Thinnest total build, in micrometres, that the shop will leave on a panel after a cut. */
  filmFloorMicrometres: z.number().positive(),
  /** Most machine-polishing minutes for one person in a day; common practice 300-360. */
  polishingLimitMinutes: Minutes,
  moveMinutes: Minutes,
  /** Standing time before work on a car may be planned after drop-off, and other defaults a shop may edit. */
  inspectionAnswerMinutes: Minutes,
  /** How sure a pickup time must be before it is promised, in percent. */
  promiseConfidencePercent: z.int().min(50).max(99),
  /** Share of cars that fail the final inspection until the shop's own records say otherwise. */
  finalInspectionFailurePercent: z.int().min(0).max(100),
  labourRatePerHourMinor: z.int().nonnegative(),
  /** How the shop speaks to its customers; absent: in British English, and nothing is mailed by itself. */
  toCustomers: ToCustomers.optional(),
});
export type Shop = z.infer<typeof Shop>;
