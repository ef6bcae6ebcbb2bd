import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job, JobState } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Expected, Versioned } from './collection.ts';

/** Part of a list, and where the next part begins. */
export interface Page<T> {
  readonly items: T[];
  /** Opaque; null on the last page. */
  readonly nextCursor: string | null;
}

/** A half-open stretch (a day, a week), asked at an instant: a car that is here has been here until then at least. */
export interface Visiting {
  readonly from: Instant;
  readonly to: Instant;
  readonly now: Instant;
}

export interface JobFilter {
  /** Left out: every state. */
  readonly states?: readonly JobState[];
  /** Jobs whose visit touches this stretch: from when the car came until it left, where it has, else as told. */
  readonly visiting?: Visiting;
  /** Jobs whose promised pickup lies in this half-open stretch, whenever the car comes and leaves. */
  readonly promised?: { readonly from: Instant; readonly to: Instant };
  /** Part of the customer's name, phone, e-mail or the registration; case, accents, spaces and hyphens do not count. */
  readonly search?: string;
  readonly cursor?: string;
  /** 1 to 500, 50 when left out. */
  readonly limit?: number;
}

/** Jobs of a shop. The store keeps `job.version` equal to the stored version. */
export interface Jobs {
  /** By when the car came, else is told to come, else may come at the earliest; then id. @throws InvalidCursor */
  list(shopId: ShopId, filter?: JobFilter): Promise<Page<Versioned<Job>>>;
  /** Every held, booked or in-shop job, by when it is told to come, then id: what a plan must cover. */
  listOpen(shopId: ShopId): Promise<Versioned<Job>[]>;
  get(shopId: ShopId, id: JobId): Promise<Versioned<Job> | null>;
  /** `job.version` in the argument is ignored; `expected` decides. @throws as Collection.put */
  put(shopId: ShopId, job: Job, expected: Expected): Promise<Versioned<Job>>;
  /** @throws StaleVersion, NotFound, StillReferenced (floor events, the current plan) */
  delete(shopId: ShopId, id: JobId, expected: number | 'any'): Promise<void>;
}
