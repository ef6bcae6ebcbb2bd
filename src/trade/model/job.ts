import { z } from 'zod';
import { ConditionAtBooking, Inspection } from './condition.ts';
import { JobId, OperationKey, PlaceId, RecipeId, TechnicianId } from './ids.ts';
import { AddOn } from './recipe.ts';
import { Instant } from './time.ts';
import { PanelName, Vehicle } from './vehicle.ts';

/**
 * `held`: a slot kept for minutes or days, not yet sold. `booked`: confirmed. `inShop`: dropped off.
 * `done`: picked up. `cancelled`, `noShow`, `lapsed` (a hold that ran out): closed without the work.
 */
export const JobState = z.enum(['held', 'booked', 'inShop', 'done', 'cancelled', 'noShow', 'lapsed']);
export type JobState = z.infer<typeof JobState>;

export const Customer = z.object({
  name: z.string().min(1).max(120),
  phone: z.string().max(40),
  email: z.union([z.email(), z.literal('')]),
});
export type Customer = z.infer<typeof Customer>;

export const PickupPromise = z.object({
  pickupAt: Instant,
  givenAt: Instant,
  /** Probability of being kept when it was given, in percent. */
  confidencePercent: z.number().min(0).max(100),
  /** As likely to be ready earlier as later, when it was given; absent on promises from before this was kept. */
  medianReadyAt: Instant.optional(),
  /** What every spread was multiplied by when it was given; absent: 1. */
  spreadFactor: z.number().positive().optional(),
});
export type PickupPromise = z.infer<typeof PickupPromise>;

/**
 * A place, an hour or a person that somebody at the desk decided on for one operation. The plan keeps it until the operation
 * begins: the hour to the minute, the place for the whole stay the operation is done in.
 */
export const Wish = z.object({
  operation: OperationKey,
  placeId: PlaceId.nullable(),
  /** It starts then, to the minute; null: at no told hour. */
  startAt: Instant.nullable(),
  /** It starts no earlier; null: no matter. */
  notBefore: Instant.nullable(),
  /** Somebody who is in the crew; null: whoever can. */
  personId: TechnicianId.nullable(),
  madeAt: Instant,
  /** Version of the plan it was made against: where things go back to when it is withdrawn. */
  planBefore: z.int().nonnegative(),
});
export type Wish = z.infer<typeof Wish>;

/** Everything decided or told about a job, apart from what has happened on the floor. */
export const Job = z.object({
  id: JobId,
  state: JobState,
  customer: Customer,
  vehicle: Vehicle,
  condition: ConditionAtBooking,
  recipeId: RecipeId,
  addOns: z.array(AddOn),
  /** 1 ordinary, higher is dearer to break. */
  priority: z.int().min(1).max(5),
  earliestDropOff: Instant,
  /** Told to the customer; the plan keeps it. */
  dropOffAt: Instant.nullable(),
  wantedPickupAt: Instant.nullable(),
  promise: PickupPromise.nullable(),
  /** Promises given for the same work before the present one and taken back, oldest first. */
  formerPromises: z.array(PickupPromise).max(50).optional(),
  holdUntil: Instant.nullable(),
  depositNote: z.string().max(200),
  /** Arranged with a named person outside opening hours. */
  arranged: z.object({ dropOffBy: TechnicianId.nullable(), pickupBy: TechnicianId.nullable() }).nullable(),
  inspection: Inspection.nullable(),
  /** Scope after the inspection: the customer's yes, or what runs without one. */
  scope: z
    .object({
      correctionPasses: z.int().min(0).max(4),
      answer: z.enum(['awaited', 'approved', 'declined', 'defaulted']),
      answerBy: Instant,
      priceMinor: z.int().nonnegative(),
      /** Panels on which nothing is cut, whatever is answered: their film is too thin. */
      sparedPanels: z.array(PanelName).optional(),
    })
    .nullable(),
  priceMinor: z.int().nonnegative(),
  notes: z.string().max(2000),
  /** What the desk decided about single operations, oldest first. */
  wishes: z.array(Wish).max(100).optional(),
  createdAt: Instant,
  /** When the car really came, and when it left, as the floor told; absent until it did. */
  cameAt: Instant.optional(),
  leftAt: Instant.optional(),
  /** When the customer was erased from it; absent on all others. */
  erasedAt: Instant.optional(),
  version: z.int().nonnegative(),
});
export type Job = z.infer<typeof Job>;

/** Facts of the floor. Append-only; what a device sends twice (same `clientId`) is one fact. */
export const FloorFact = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('arrived'), placeId: PlaceId }),
  z.object({ kind: z.literal('started'), operation: OperationKey, by: z.array(TechnicianId).max(4) }),
  z.object({ kind: z.literal('finished'), operation: OperationKey }),
  z.object({ kind: z.literal('interrupted'), operation: OperationKey, reason: z.string().min(1).max(300) }),
  z.object({ kind: z.literal('resumed'), operation: OperationKey }),
  z.object({ kind: z.literal('abandoned'), operation: OperationKey, reason: z.string().min(1).max(300) }),
  z.object({ kind: z.literal('handedOver'), operation: OperationKey, to: z.array(TechnicianId).min(1).max(4) }),
  z.object({ kind: z.literal('moved'), placeId: PlaceId }),
  z.object({
    kind: z.literal('failedFinalInspection'),
    reworkMinutes: z.int().min(5).max(600),
    note: z.string().max(500),
  }),
  z.object({ kind: z.literal('noted'), operation: OperationKey.nullable(), text: z.string().min(1).max(2000) }),
  z.object({ kind: z.literal('pickedUp') }),
]);
export type FloorFact = z.infer<typeof FloorFact>;

export const FloorEvent = z.object({
  jobId: JobId,
  /** Made by the device; the same id is the same event. */
  clientId: z.string().min(8).max(64),
  occurredAt: Instant,
  recordedAt: Instant,
  sequence: z.int().nonnegative(),
  fact: FloorFact,
});
export type FloorEvent = z.infer<typeof FloorEvent>;
