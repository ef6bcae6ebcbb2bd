import type { AirZoneId, JobId, ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent } from '../../trade/model/job.ts';
import type { ConditionsReading } from '../../trade/model/readings.ts';
import type { Instant } from '../../trade/model/time.ts';

/** Half-open stretch of time. */
export interface Stretch {
  readonly from: Instant;
  readonly to: Instant;
}

/** What happened on the floor. Never changed, but for words about a customer who was erased (`Traces`); never removed. */
export interface FloorEvents {
  /**
   * Records a fact and gives it the next number of its job, from 1. The same `clientId` again in the same shop returns
   * what was recorded first, with `repeated: true`, whatever the second one says.
   * @throws UnknownReference when the job is not there
   */
  append(shopId: ShopId, event: Omit<FloorEvent, 'sequence'>): Promise<{ event: FloorEvent; repeated: boolean }>;
  /**
   * Records many facts in a few statements, each as `append` would and in the order given; tells how many were new.
   * @throws UnknownReference when a job is not there: nothing is recorded then
   */
  appendAll(shopId: ShopId, events: readonly Omit<FloorEvent, 'sequence'>[]): Promise<number>;
  /** A job's events in order; `afterSequence` leaves out those up to and including it. */
  listByJob(shopId: ShopId, jobId: JobId, afterSequence?: number): Promise<FloorEvent[]>;
  /** Events of several jobs by their ids, each job's in order, without notes: nothing follows from them. For planning. */
  listByJobs(shopId: ShopId, jobIds: readonly JobId[]): Promise<FloorEvent[]>;
  /** Events recorded at or after an instant, oldest first. */
  listRecordedSince(shopId: ShopId, recordedFrom: Instant, limit?: number): Promise<FloorEvent[]>;
  /** Events that happened in a stretch, oldest first: for utilisation and calibration. */
  listOccurred(shopId: ShopId, stretch: Stretch): Promise<FloorEvent[]>;
}

/** Readings of air and panel conditions. Append-only. */
export interface Readings {
  /** @throws UnknownReference when the air zone or the job is not there */
  append(shopId: ShopId, reading: ConditionsReading): Promise<void>;
  /** Oldest first. `airZoneId` left out: all zones. */
  list(
    shopId: ShopId,
    filter: Stretch & { airZoneId?: AirZoneId; source?: ConditionsReading['source'] },
  ): Promise<ConditionsReading[]>;
  /** The last one taken in a zone at or before an instant. */
  latest(
    shopId: ShopId,
    airZoneId: AirZoneId,
    at: Instant,
    source?: ConditionsReading['source'],
  ): Promise<ConditionsReading | null>;
}
