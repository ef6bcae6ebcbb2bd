import type { JobId, OperationKey, PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

export interface QueueItem {
  readonly when: 'now' | 'next' | 'later' | 'done';
  readonly jobId: JobId;
  readonly operation: OperationKey;
  readonly planned: PlannedOperation;
  /** Vehicle and registration. */
  readonly car: string;
  readonly placeId: PlaceId | null;
  readonly placeName: string;
  /** Latest start a running window leaves, null when none. */
  readonly windowClosesAt: Instant | null;
  readonly minutesToWindow: number | null;
  readonly instructions: readonly string[];
  readonly cautions: readonly { readonly title: string; readonly text: string }[];
  readonly products: readonly string[];
  /** Conditions the work needs and the freshest reading, in a sentence each. */
  readonly conditions: readonly string[];
}

export interface Queue {
  readonly technicianId: TechnicianId;
  readonly name: string;
  readonly date: LocalDate;
  readonly asOf: Instant;
  readonly planVersion: number;
  readonly items: readonly QueueItem[];
}

/** A technician's day in order. @throws NotFound */
export async function technicianQueue(
  deps: ShopDeps,
  input: { shopId: ShopId; technicianId: TechnicianId; date: LocalDate },
): Promise<Queue> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
