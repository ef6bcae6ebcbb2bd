import { parseArgs } from 'node:util';
import { shopAsItStands } from '../../../src/shop/records/shop-as-it-stands.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { machine } from '../figures/machine.ts';
import { openDatabases } from '../servers/databases.ts';
import { type Calls, callsOf, takeCall } from './callers.ts';
import { Floor } from './floor.ts';
import { luckOf } from './luck.ts';
import { report } from './report.ts';
import { tracer } from './tracer.ts';
import { openVirtualShop } from './virtual-shop.ts';

const USAGE = `usage: bench:weeks [--cars 40] [--seeds 1,2] [--day-deviation 0.05] [--scope-grows 0.2] [--most-days 60] [--trace]
The seed's shop from its first car to its last, minute by minute with a clock of its own: customers call and take one of the slots they are
offered, cars come, people do what the plan says in the time that the work really takes, inspections fail and scopes grow, and the
server plans again. What was promised is compared with what came of it. --trace tells of each plan that makes a car ready later by half an hour.`;

const { values } = parseArgs({
  options: {
    cars: { type: 'string', default: '40' },
    seeds: { type: 'string', default: '1' },
    'day-deviation': { type: 'string', default: '0.05' },
    'scope-grows': { type: 'string', default: '0.2' },
    'most-days': { type: 'string', default: '60' },
    trace: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});
if (values.help || !(Number(values.cars) > 0)) {
  console.error(USAGE);
  process.exit(2);
}
const MINUTE = 60_000;
const DAY = 1440 * MINUTE;
/** The server looks after the shop so often, of its own accord; here less often, since it is simulated each time. */
const UPKEEP_MS = 30 * MINUTE;
const BETTER_MS = 60 * MINUTE;
/** Monday 2 March 2026, 07:00 in the seed's zone. */
const BEGIN = Date.parse('2026-03-02T07:00+01:00') as Instant;

console.log(`## Weeks of a shop\n\n${machine()}\n`);
for (const seed of values.seeds.split(',').map(Number)) await weeks(seed);
console.log(`At the end: ${machine()}`);

async function weeks(seed: number): Promise<void> {
  const databases = await openDatabases('sqlite');
  const luck = luckOf(seed);
  const shop = await openVirtualShop(await databases.fresh(), BEGIN);
  const until = (BEGIN + Number(values['most-days']) * DAY) as Instant;
  const floor = new Floor(shop, luck, BEGIN, {
    dayDeviation: Number(values['day-deviation']),
    scopeGrows: Number(values['scope-grows']),
    agrees: 0.8,
    until,
  });
  const waiting = callsOf(shop, Number(values.cars), seed, luck, BEGIN);
  const calls: Calls = { asked: 0, sold: 0, refused: new Map(), daysAhead: [] };
  let [upkeepAt, betterAt] = [BEGIN + UPKEEP_MS, BEGIN + BETTER_MS];
  const trace = values.trace ? tracer() : undefined;
  let plansThen = 0;
  let said = '';
  for (let now = BEGIN; now < until; ) {
    shop.setNow(now);
    while (waiting.length > 0 && waiting[0]!.at <= now) await takeCall(shop, calls, waiting.shift()!, luck);
    await floor.work(now);
    if (now >= upkeepAt) {
      upkeepAt = now + UPKEEP_MS;
      if (floor.isStaffed) await shop.keepUp();
    }
    const reasons = await shop.planIfAsked();
    trace?.(await shopAsItStands(shop.deps.store, shop.shopId), now, reasons);
    if (now >= betterAt && shop.planned.plans > plansThen) {
      betterAt = now + BETTER_MS;
      plansThen = shop.planned.plans;
      await shop.lookForBetter();
    }
    const openJobs = (await shopAsItStands(shop.deps.store, shop.shopId)).openJobs.length;
    if (waiting.length === 0 && openJobs === 0) break;
    const day = new Date(now).toISOString().slice(0, 10);
    if (day !== said) {
      said = day;
      console.error(
        `${day}: ${calls.sold} sold, ${openJobs} open, ${floor.tally.facts} facts, ${shop.planned.plans} plans`,
      );
    }
    const next = Math.min(await floor.nextDue(), upkeepAt, waiting[0]?.at ?? Number.POSITIVE_INFINITY);
    now = Math.max(now + MINUTE, Math.ceil(next / MINUTE) * MINUTE) as Instant;
  }
  await report(seed, shop, floor, calls);
  await shop.deps.store.close();
  await databases.close();
}
