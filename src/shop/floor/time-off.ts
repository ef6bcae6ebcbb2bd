import type { ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import type { Replanned } from '../planning/replan.ts';

/** A technician is away (sick) from one instant to another; the book is planned again at once. @throws NotFound, Invalid (to) */
export async function takeTimeOff(
  deps: ShopDeps,
  input: { shopId: ShopId; technicianId: TechnicianId; from: Instant; to: Instant; note: string },
): Promise<Replanned> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
