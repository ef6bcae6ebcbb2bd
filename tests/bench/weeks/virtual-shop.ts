import { createInProcessDesk } from '../../../src/shop/booking/in-process-desk.ts';
import { putShopData } from '../../../src/shop/demo/put-shop-data.ts';
import type { ShopDeps } from '../../../src/shop/deps.ts';
import { improvePlan } from '../../../src/shop/planning/improve-plan.ts';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { firstPlan } from '../../../src/shop/planning/replan.ts';
import { keepUp } from '../../../src/shop/upkeep/upkeep.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { seedShop } from '../books/seed-shop.ts';

/** What the server did by itself. */
export interface Planned {
  plans: number;
  better: number;
  /** Plans that were not found or not stored, with what was said. */
  readonly failed: string[];
  readonly planMs: number[];
}

const SEED = 7;
/** Units of work for the better plan that follows; about what a second holds on a quiet machine. */
const THOROUGH_WORK = 150_000;

/** The seed's shop in a database that has been migrated and is empty, with the use cases of the server and a clock that is set by hand. */
export async function openVirtualShop(databaseUrl: string, begin: Instant) {
  let now = begin;
  let wanted: string[] = [];
  const store = await openStore({ databaseUrl, clock: () => now });
  const { template, ...data } = seedShop(1, ShopId.parse('weeks'));
  const shopId = data.shop.id;
  await store.transaction(shopId, (records) => putShopData(records, data));
  const complaints: string[] = [];
  const complain = (given: object, words: string) => {
    complaints.push(`${words}: ${JSON.stringify(given).slice(0, 300)}`);
  };
  let ids = 0;
  const deps: ShopDeps = {
    store,
    planner: createInProcessPlanner(),
    desk: createInProcessDesk(SEED, () => 0),
    clock: () => now,
    newId: () => `weeks-${++ids}`,
    seed: SEED,
    budget: { promptWork: THOROUGH_WORK, thoroughWork: THOROUGH_WORK, timeLimitMs: 600_000 },
    log: { info() {}, warn: complain, error: complain },
    replanner: {
      ask: (_, reason) => {
        wanted.push(reason);
      },
      improve: () => {},
      settled: async () => {},
      close: async () => {},
    },
  };
  const planned: Planned = { plans: 0, better: 0, failed: [], planMs: [] };
  const orSaid = async (what: Promise<{ readonly published: boolean }>): Promise<boolean> => {
    try {
      return (await what).published;
    } catch (problem) {
      planned.failed.push(`${new Date(now).toISOString()} ${String(problem)}`);
      return false;
    }
  };
  return {
    deps,
    shopId,
    data: { ...data, template },
    planned,
    complaints,
    setNow(at: Instant): void {
      now = at;
    },
    /** Plans again if anything asked for it, as the server does a moment after the last ask; returns what did. */
    async planIfAsked(): Promise<string> {
      if (wanted.length === 0) return '';
      const reason = [...new Set(wanted)].join(', ');
      wanted = [];
      const began = performance.now();
      if (await orSaid(firstPlan(deps, { shopId, reason }))) planned.plans += 1;
      planned.planMs.push(performance.now() - began);
      return reason;
    },
    async lookForBetter(): Promise<void> {
      if (await orSaid(improvePlan(deps, { shopId }))) planned.better += 1;
    },
    keepUp: () => keepUp(deps, { shopId }),
  };
}

export type VirtualShop = Awaited<ReturnType<typeof openVirtualShop>>;
