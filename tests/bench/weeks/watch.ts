import type { ShopAsItStands } from '../../../src/shop/records/shop-as-it-stands.ts';
import type { JobId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Instant, LocalDate } from '../../../src/trade/model/time.ts';

/** Days on which nothing is told though cars are there, before it is called a stall; Sunday is no such day. */
const QUIET_DAYS = 2;

/** What should not happen: cars that no plan has, days on which the floor stands still. */
export class Watch {
  /** When each car was first set aside, in words. */
  readonly setAside = new Map<JobId, string>();
  readonly stalls: string[] = [];
  #facts = 0;
  #quietDays = 0;

  lookAtPlan({ plan, openJobs }: ShopAsItStands, now: Instant): void {
    if (plan === null) return;
    const planned = new Set(plan.jobs.map(({ jobId }) => jobId));
    for (const { id, state } of openJobs) {
      if (planned.has(id) || this.setAside.has(id)) continue;
      this.setAside.set(id, `${id} (${state}) at ${new Date(now).toISOString().slice(5, 16)}, ${plan.reason}`);
    }
  }

  lookAtDay(day: LocalDate, facts: number, openJobs: readonly Job[]): void {
    const isHere = openJobs.filter(({ state }) => state === 'inShop');
    this.#quietDays = facts === this.#facts && isHere.length > 0 ? this.#quietDays + 1 : 0;
    this.#facts = facts;
    if (this.#quietDays > QUIET_DAYS) this.stalls.push(`${day}: ${isHere.map(({ id }) => id).join(', ')}`);
  }
}
