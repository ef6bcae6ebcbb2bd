import { type ShopAsItStands, shopAsItStands } from '../../../src/shop/records/shop-as-it-stands.ts';
import { localDate } from '../../../src/trade/calendar/local-instant.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { BadDays } from './bad-days.ts';
import { type Calls, callsOf, takeCall } from './callers.ts';
import { Customers } from './customers.ts';
import { Floor } from './floor.ts';
import { Happened, type Shares } from './happenings.ts';
import { luckOf } from './luck.ts';
import type { VirtualShop } from './virtual-shop.ts';
import { Watch } from './watch.ts';

export interface Weeks {
  readonly seed: number;
  /** Cars that somebody calls about. */
  readonly cars: number;
  /** Standard deviation of the logarithm of how long everything takes on one day. */
  readonly dayDeviation: number;
  /** Probability that the inspection on clean paint finds a grade more than was booked. */
  readonly scopeGrows: number;
  /** How often what else happens. */
  readonly shares: Shares;
  /** The end, if cars are still there. */
  readonly until: Instant;
  readonly onDay?: (words: string) => void;
  /** Told after every minute in which something happened, with what a plan was asked for. */
  readonly onPlan?: (standing: ShopAsItStands, now: Instant, asked: string) => void;
}

/** What came of some weeks. */
export interface WeeksRun {
  readonly floor: Floor;
  readonly calls: Calls;
  readonly happened: Happened;
  readonly watch: Watch;
}

const MINUTE = 60_000;
/** The server looks after the shop so often, of its own accord; here less often, since it is simulated each time. */
const UPKEEP_MS = 30 * MINUTE;
const BETTER_MS = 60 * MINUTE;
/** Share of customers who agree to a scope that has grown. */
const AGREES = 0.8;

/** Monday 2 March 2026, 07:00 in the seed's zone. */
export const BEGIN = Date.parse('2026-03-02T07:00+01:00') as Instant;

/** Runs a shop from its first call to its last car. The same seed is the same weeks. */
export async function runWeeks(shop: VirtualShop, weeks: Weeks): Promise<WeeksRun> {
  const { seed, until, dayDeviation, scopeGrows, shares } = weeks;
  const luck = luckOf(seed);
  const happened = new Happened();
  const span = { from: BEGIN, to: until };
  const customers = new Customers(shop, luck, shares, happened, span);
  const badDays = new BadDays(shop, luck, shares, happened, span);
  const terms = { dayDeviation, scopeGrows, agrees: AGREES, shares, span };
  const floor = new Floor(shop, { luck, customers, badDays, happened }, terms);
  const watch = new Watch();
  const waiting = callsOf(shop, weeks.cars, seed, luck, BEGIN);
  const calls: Calls = { asked: 0, sold: 0, refused: new Map(), daysAhead: [] };
  const standing = () => shopAsItStands(shop.deps.store, shop.shopId);
  let [upkeepAt, betterAt, plansThen, said] = [BEGIN + UPKEEP_MS, BEGIN + BETTER_MS, 0, ''];
  for (let now = BEGIN; now < until; ) {
    shop.setNow(now);
    while (waiting.length > 0 && waiting[0]!.at <= now) await takeCall(shop, calls, waiting.shift()!, luck);
    await badDays.act(now, (await standing()).openJobs);
    await customers.act(now, (await standing()).openJobs);
    await floor.work(now);
    if (now >= upkeepAt) {
      upkeepAt = now + UPKEEP_MS;
      if (floor.isStaffed) await shop.keepUp();
    }
    const asked = await shop.planIfAsked();
    const after = await standing();
    weeks.onPlan?.(after, now, asked);
    if (asked !== '') watch.lookAtPlan(after, now);
    if (now >= betterAt && shop.planned.plans > plansThen) {
      betterAt = now + BETTER_MS;
      plansThen = shop.planned.plans;
      await shop.lookForBetter();
    }
    const { openJobs } = await standing();
    if (waiting.length === 0 && openJobs.length === 0) break;
    const day = localDate(now, shop.data.shop.timeZone);
    if (day !== said) {
      said = day;
      watch.lookAtDay(day, floor.tally.facts, openJobs);
      const words = `${calls.sold} sold, ${openJobs.length} open, ${floor.tally.facts} facts, ${shop.planned.plans} plans`;
      weeks.onDay?.(`${day}: ${words}`);
    }
    const due = [await floor.nextDue(), customers.nextDue(now, openJobs), badDays.nextDue(), upkeepAt, waiting[0]?.at];
    const next = Math.min(...due.map((at) => at ?? Number.POSITIVE_INFINITY));
    now = Math.max(now + MINUTE, Math.ceil(next / MINUTE) * MINUTE) as Instant;
  }
  return { floor, calls, happened, watch };
}
