import type { PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

/** Minutes of a bay's opening hours; the parts add up to `open`. */
export interface BayMinutes {
  readonly placeId: PlaceId;
  readonly name: string;
  readonly open: number;
  /** Somebody works on the car. */
  readonly worked: number;
  /** Coating cures, a remover dwells, paint dries: the car may not leave, nobody is needed. */
  readonly curing: number;
  /** A car stands there and nothing happens to it. */
  readonly waiting: number;
  /** No car can be there: turnaround, closure, or a tandem neighbour in the way. */
  readonly blocked: number;
  readonly empty: number;
}

/** Minutes of a person's shifts; the parts add up to `open`. Overtime is apart. */
export interface PersonMinutes {
  readonly technicianId: TechnicianId;
  readonly name: string;
  readonly open: number;
  readonly worked: number;
  /** Share of watching, in whole minutes of the person. */
  readonly watched: number;
  readonly free: number;
  readonly overtime: number;
}

export interface WeekUtilisation {
  readonly monday: LocalDate;
  readonly from: Instant;
  readonly to: Instant;
  readonly bays: readonly BayMinutes[];
  readonly people: readonly PersonMinutes[];
  readonly promises: { readonly due: number; readonly kept: number; readonly broken: number; readonly open: number };
}

/** Where the week's hours go: facts for what is past, the plan for the rest. @throws NotFound, Invalid (monday) */
export async function weekUtilisation(
  deps: ShopDeps,
  input: { shopId: ShopId; monday: LocalDate },
): Promise<WeekUtilisation> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
