import { costJob, pickup } from './job-cost.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import type { ShopModel } from './shop-model.ts';

/** Says which of two plans of one job is the better, allocating nothing. */
export class PlanJudge {
  readonly #shop: ShopModel;
  readonly #cost: Float64Array;
  readonly #thanCost: Float64Array;

  constructor(shop: ShopModel) {
    this.#shop = shop;
    this.#cost = new Float64Array(shop.problem.tiers.length);
    this.#thanCost = new Float64Array(shop.problem.tiers.length);
  }

  /** Less in the first tier that differs; then the earlier leaving. */
  isBetter(job: JobModel, plan: JobPlan, than: JobPlan): boolean {
    costJob(this.#shop, job, plan, this.#cost);
    costJob(this.#shop, job, than, this.#thanCost);
    for (let k = 0; k < this.#cost.length; k++) {
      if (this.#cost[k] !== this.#thanCost[k]) return this.#cost[k]! < this.#thanCost[k]!;
    }
    return pickup(job, plan) < pickup(job, than);
  }
}
