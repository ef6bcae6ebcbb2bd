import { LRUCache } from 'lru-cache';
import type { Plan } from '../../trade/model/plan.ts';

/** Shops whose plan is remembered at once; a plan of two hundred jobs takes some two megabytes. */
const MOST_SHOPS = 8;

/**
 * The plan that this process read or published last of each shop, so that it need not be read again for every screen and every
 * new plan. Only what was committed is kept here, and a plan is known by its version and the moment it was made, which
 * a shop that was deleted and made anew under the same id does not repeat.
 */
export class PlanMemory {
  readonly #plans = new LRUCache<string, Plan>({ max: MOST_SHOPS });

  find(shopId: string, version: number, madeAt: number): Plan | undefined {
    const plan = this.#plans.get(shopId);
    return plan?.version === version && plan.madeAt === madeAt ? plan : undefined;
  }

  /** A plan whose words were written anew under the same version. */
  forget(shopId: string): void {
    this.#plans.delete(shopId);
  }

  keep(shopId: string, plan: Plan): void {
    this.#plans.set(shopId, plan);
  }
}
