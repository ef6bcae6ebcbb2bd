import { z } from 'zod';
import { ConditionAtBooking } from '../../trade/model/condition.ts';
import { RecipeId, TechnicianId } from '../../trade/model/ids.ts';
import { Customer } from '../../trade/model/job.ts';
import { AddOn } from '../../trade/model/recipe.ts';
import { Instant } from '../../trade/model/time.ts';
import { Vehicle } from '../../trade/model/vehicle.ts';

/** What the desk knows of a car that is to be booked. */
export const BookingRequest = z.object({
  customer: Customer,
  vehicle: Vehicle,
  condition: ConditionAtBooking,
  recipeId: RecipeId,
  addOns: z.array(AddOn).max(5).default([]),
  /** 1 ordinary, higher is dearer to break. */
  priority: z.int().min(1).max(5).default(1),
  earliestDropOff: Instant,
  /** The day or hour the customer would like to bring the car; null: the sooner the better. */
  wantedDropOffAt: Instant.nullable().default(null),
  wantedPickupAt: Instant.nullable().default(null),
  arranged: z
    .object({ dropOffBy: TechnicianId.nullable(), pickupBy: TechnicianId.nullable() })
    .nullable()
    .default(null),
  notes: z.string().max(2000).default(''),
});
export type BookingRequest = z.infer<typeof BookingRequest>;

/** What of a booking can be changed; a field left out stays. */
export const BookingChange = z
  .object({
    customer: Customer,
    vehicle: Vehicle,
    condition: ConditionAtBooking,
    recipeId: RecipeId,
    addOns: z.array(AddOn).max(5),
    priority: z.int().min(1).max(5),
    /** A new hour told to the customer; the car is planned for it or the change is refused. */
    dropOffAt: Instant,
    /** A new pickup to promise instead of the old; null: the one the plan gives. Left out: the promise stands. */
    pickupAt: Instant.nullable(),
    wantedPickupAt: Instant.nullable(),
    arranged: z.object({ dropOffBy: TechnicianId.nullable(), pickupBy: TechnicianId.nullable() }).nullable(),
    depositNote: z.string().max(200),
    notes: z.string().max(2000),
  })
  .partial();
export type BookingChange = z.infer<typeof BookingChange>;
