import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

/** Something a person at the desk has to know and acknowledge. */
export interface DeskException {
  readonly id: string;
  readonly kind: string;
  readonly jobId: JobId | null;
  readonly text: string;
  readonly raisedAt: Instant;
  readonly acknowledgedAt: Instant | null;
  readonly acknowledgedBy: string | null;
}

/** Open exceptions (broken promises, released freezes, facts against a rule), newest first. */
export async function listExceptions(
  deps: ShopDeps,
  input: { shopId: ShopId; includeAcknowledged?: boolean },
): Promise<readonly DeskException[]> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}

/** A person has seen it. Doing so twice is no error. @throws NotFound, Invalid (by) */
export async function acknowledge(
  deps: ShopDeps,
  input: { shopId: ShopId; exceptionId: string; by: string },
): Promise<DeskException> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
