import { z } from 'zod';
import { JobId, OperationKey, PlaceId, TechnicianId } from './ids.ts';
import { WorkKind } from './recipe.ts';
import { Instant } from './time.ts';

/** Stretches of an operation during which work is in progress; more than one when it pauses. */
export const Piece = z.object({ from: Instant, to: Instant });

export const PlannedOperation = z.object({
  jobId: JobId,
  operation: OperationKey,
  kind: WorkKind,
  label: z.string(),
  start: Instant,
  end: Instant,
  pieces: z.array(Piece),
  placeId: PlaceId.nullable(),
  people: z.array(TechnicianId),
  /** Share of each person it takes, in percent; 0 for unattended work. */
  sharePercent: z.int().min(0).max(100),
  state: z.enum(['planned', 'underWay', 'paused', 'finished']),
  remedy: z.boolean(),
  /** Latest start the windows before it leave, when one is running or will. */
  windowClosesAt: Instant.nullable(),
});
export type PlannedOperation = z.infer<typeof PlannedOperation>;

export const PlannedStay = z.object({ jobId: JobId, placeId: PlaceId, from: Instant, to: Instant });
export type PlannedStay = z.infer<typeof PlannedStay>;

/** What the plan says of one job, for desk and customer. */
export const PlannedJob = z.object({
  jobId: JobId,
  dropOffAt: Instant,
  readyAt: Instant,
  pickupAt: Instant,
  /** Minutes after the promise; 0 when kept or none was given. */
  lateMinutes: z.int().nonnegative(),
});
export type PlannedJob = z.infer<typeof PlannedJob>;

/** A published plan: every open job, checked. */
export const Plan = z.object({
  version: z.int().nonnegative(),
  madeAt: Instant,
  reason: z.string(),
  objective: z.array(z.object({ tier: z.string(), value: z.int(), bound: z.int() })),
  seed: z.int(),
  interrupted: z.boolean(),
  operations: z.array(PlannedOperation),
  stays: z.array(PlannedStay),
  jobs: z.array(PlannedJob),
});
export type Plan = z.infer<typeof Plan>;
