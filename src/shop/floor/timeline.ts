import type { JobId, PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

export interface TimelineStay {
  readonly jobId: JobId;
  readonly car: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly operations: readonly PlannedOperation[];
}

export interface Timeline {
  readonly date: LocalDate;
  /** The local day in instants; 23 or 25 hours on a daylight-saving change. */
  readonly from: Instant;
  readonly to: Instant;
  readonly asOf: Instant;
  readonly planVersion: number;
  readonly places: readonly {
    readonly placeId: PlaceId;
    readonly name: string;
    readonly kind: 'bay' | 'parking';
    readonly stays: readonly TimelineStay[];
  }[];
  readonly people: readonly {
    readonly technicianId: TechnicianId;
    readonly name: string;
    /** Shifts of the day, authorised overtime included. */
    readonly hours: readonly { readonly from: Instant; readonly to: Instant }[];
    readonly operations: readonly PlannedOperation[];
  }[];
}

/** The day by place and by person. @throws NotFound (shop) */
export async function timeline(deps: ShopDeps, input: { shopId: ShopId; date: LocalDate }): Promise<Timeline> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
