import type { JobModel } from '../construct/job-model.ts';
import type { ShopModel } from '../construct/shop-model.ts';
import type { Tier } from '../problem/problem.ts';
import { AloneTimes } from './alone.ts';
import { boundJob, type JobBound } from './job-bound.ts';
import { hasProfile, type LeadProfile, leadProfile } from './lead-profile.ts';

/**
 * A lower bound for each tier: every job alone in the shop, added up. Overtime, change and standing are bounded by nothing. The bound of
 * the lead tier begins with pure work and rises as profiles are asked for.
 */
export class ShopBound {
  /** By tier, by itself. */
  readonly tiers: Float64Array;
  readonly jobs: readonly JobBound[];
  /** By job, what it adds at least to each tier; to the makespan, its own last end. */
  readonly least: readonly Float64Array[];
  readonly #shop: ShopModel;
  readonly #models: readonly JobModel[];
  readonly #alone: AloneTimes;
  readonly #profiles: (LeadProfile | undefined)[];
  readonly #lead: number;

  constructor(shop: ShopModel, jobs: readonly JobModel[]) {
    this.#shop = shop;
    this.#models = jobs;
    this.#alone = new AloneTimes(shop);
    this.#profiles = new Array<LeadProfile | undefined>(jobs.length);
    const { tiers } = shop.problem;
    this.#lead = tiers.indexOf('lead');
    const makespan = tiers.indexOf('makespan');
    const bounds: JobBound[] = [];
    const least: Float64Array[] = [];
    this.tiers = new Float64Array(tiers.length);
    for (const job of jobs) {
      const bound = boundJob(job, this.#alone, shop.now, shop.horizon);
      const adds = leastByTier(tiers, job, bound);
      for (let k = 0; k < tiers.length; k++) {
        this.tiers[k] = k === makespan ? Math.max(this.tiers[k]!, adds[k]!) : this.tiers[k]! + adds[k]!;
      }
      bounds.push(bound);
      least.push(adds);
    }
    this.jobs = bounds;
    this.least = least;
  }

  /** Units of search work done so far. */
  get work(): number {
    return this.#alone.work;
  }

  /** How short the stay of job `j` can be; null when its drop-off is not to be chosen. Worked out when first asked for. */
  profile(j: number): LeadProfile | null {
    const job = this.#models[j]!;
    if (!hasProfile(job)) return null;
    const known = this.#profiles[j];
    if (known !== undefined) return known;
    const profile = leadProfile(job, this.#alone, this.#shop.now, this.#shop.horizon, this.jobs[j]!.lead);
    this.#profiles[j] = profile;
    if (this.#lead >= 0) {
      this.tiers[this.#lead]! += profile.least - this.least[j]![this.#lead]!;
      this.least[j]![this.#lead] = profile.least;
    }
    return profile;
  }
}

function leastByTier(tiers: readonly Tier[], job: JobModel, bound: JobBound): Float64Array {
  const least = new Float64Array(tiers.length);
  for (let k = 0; k < tiers.length; k++) least[k] = leastOf(tiers[k]!, job, bound);
  return least;
}

function leastOf(tier: Tier, job: JobModel, bound: JobBound): number {
  if (tier === 'makespan') return bound.lastEnd;
  if (tier === 'broken') return bound.pickup > job.promiseAt ? job.promiseWeight : 0;
  if (tier === 'lead') return bound.lead;
  if (tier !== 'tardiness') return 0;
  return (
    Math.max(0, bound.pickup - job.promiseAt) * job.promiseWeight +
    Math.max(0, bound.pickup - job.dueAt) * job.dueWeight
  );
}
