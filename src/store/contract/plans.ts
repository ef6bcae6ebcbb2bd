import type { JobId, PlaceId, ShopId } from '../../trade/model/ids.ts';
import type { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Stretch } from './floor.ts';

/**
 * A place taken for a half-open stretch by a job of the plan. The database itself refuses two overlapping ones of one
 * place, holds included.
 */
export interface Occupancy extends Stretch {
  readonly placeId: PlaceId;
  readonly jobId: JobId;
}

/** A place kept for a quote until `expiresAt`; then it counts for nothing and the next write purges it. */
export interface Hold extends Stretch {
  readonly placeId: PlaceId;
  /** The held job's id or the quote's: everything under one owner is released together. */
  readonly owner: string;
  readonly expiresAt: Instant;
}

export interface Publication {
  readonly shopId: ShopId;
  /** Version of the plan this one was made from; 0 when the shop had none. `plan.version` is one more. */
  readonly expectedVersion: number;
  /** One that its maker has checked: it is stored as it is, and frozen. */
  readonly plan: Plan;
  readonly occupancy: readonly Occupancy[];
  /** Holds that ran out by then are purged. */
  readonly now: Instant;
  /** Owners whose holds this plan replaces, released in the same transaction. */
  readonly releaseHolds?: readonly string[];
}

export interface PlanSummary {
  readonly version: number;
  readonly madeAt: Instant;
  readonly reason: string;
  readonly objective: Plan['objective'];
  readonly interrupted: boolean;
}

export interface Plans {
  /** 0 when the shop has none yet. */
  currentVersion(shopId: ShopId): Promise<number>;
  /** Operations by start, stays by time, jobs by id (`inOrder`). Shared with others, and frozen. */
  current(shopId: ShopId): Promise<Plan | null>;
  /** Any kept version, whole. The older, the more is undone to come back to it. */
  get(shopId: ShopId, version: number): Promise<Plan | null>;
  /** Newest first. */
  history(shopId: ShopId, limit?: number): Promise<PlanSummary[]>;
  /** What the current plan says of one job. */
  job(
    shopId: ShopId,
    jobId: JobId,
  ): Promise<{ job: PlannedJob; operations: PlannedOperation[]; stays: PlannedStay[] } | null>;
  /**
   * Makes a plan the current one: the version is compared and swapped, lapsed holds purged, and of occupancy and work what
   * differs from the plan that stood is removed and inserted, all or nothing. Returns it as `current` will.
   * @throws StalePlan when another plan came first, DoubleBooking when two cars would stand in one place
   */
  publish(publication: Publication): Promise<Plan>;
  /** Forgets old versions, never the current one. Returns how many. */
  prune(shopId: ShopId, keep: number): Promise<number>;
}

export interface Holds {
  /** @throws DoubleBooking when the plan or a live hold has the place, UnknownReference */
  take(shopId: ShopId, holds: readonly Hold[], now: Instant): Promise<void>;
  release(shopId: ShopId, owner: string): Promise<void>;
  /** Those still live at `now`. */
  list(shopId: ShopId, now: Instant): Promise<Hold[]>;
}
