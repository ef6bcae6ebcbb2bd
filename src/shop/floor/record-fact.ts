import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, FloorFact } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

export interface RecordFact {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  /** Made by the device; sent twice it is one fact. */
  readonly clientId: string;
  /** When it happened; may be earlier than what is recorded already. */
  readonly occurredAt: Instant;
  readonly fact: FloorFact;
}

export interface Recorded {
  readonly event: FloorEvent;
  /** False when this clientId was recorded before: nothing was done again. */
  readonly fresh: boolean;
  /** What of it stands against a rule or an earlier fact; the desk is told too. */
  readonly exceptions: readonly string[];
}

/**
 * Records what has happened, even when it broke a rule: that becomes an exception for the desk. A plan made with
 * it follows by itself (see `Replanner`).
 * @throws NotFound (job), Invalid (occurredAt in the future, operation or place unknown)
 */
export async function recordFact(deps: ShopDeps, input: RecordFact): Promise<Recorded> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
