import { parseArgs } from 'node:util';
import { promiseCalibration } from '../../../src/shop/promises/calibration-of.ts';
import { shopAsItStands } from '../../../src/shop/records/shop-as-it-stands.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { machine } from '../figures/machine.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { median, quantile } from '../figures/quantile.ts';
import { openDatabases } from '../servers/databases.ts';
import { type Calls, callsOf, takeCall } from './callers.ts';
import { Floor } from './floor.ts';
import { luckOf } from './luck.ts';
import { openVirtualShop } from './virtual-shop.ts';

const USAGE = `usage: bench:weeks [--cars 40] [--seeds 1,2] [--day-deviation 0.05] [--scope-grows 0.2] [--most-days 60]
The seed's shop from its first car to its last, minute by minute with a clock of its own: customers call and take one of the slots they are
offered, cars come, people do what the plan says in the time that the work really takes, inspections fail and scopes grow, and the
server plans again. What was promised is compared with what came of it.`;

const { values } = parseArgs({
  options: {
    cars: { type: 'string', default: '40' },
    seeds: { type: 'string', default: '1' },
    'day-deviation': { type: 'string', default: '0.05' },
    'scope-grows': { type: 'string', default: '0.2' },
    'most-days': { type: 'string', default: '60' },
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
const UPKEEP_MS = Number(process.env.UPKEEP ?? 30) * MINUTE;
const BETTER_MS = Number(process.env.UPKEEP ?? 60) * MINUTE;
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
  let said = '';
  for (let now = BEGIN; now < until; ) {
    shop.setNow(now);
    while (waiting.length > 0 && waiting[0]!.at <= now) await takeCall(shop, calls, waiting.shift()!, luck);
    await floor.work(now);
    if (now >= upkeepAt) {
      upkeepAt = now + UPKEEP_MS;
      await shop.keepUp();
    }
    await shop.planIfAsked();
    if (now >= betterAt) {
      betterAt = now + BETTER_MS;
      await shop.lookForBetter();
    }
    const openJobs = (await shopAsItStands(shop.deps.store, shop.shopId)).openJobs.length;
    if (waiting.length === 0 && openJobs === 0) break;
    const day = new Date(now).toISOString().slice(0, 10);
    if (day !== said) {
      said = day;
      if (process.env.WHY) {
        const st = await shopAsItStands(shop.deps.store, shop.shopId);
        for (const job of st.openJobs) {
          const ops = st
            .plan!.operations.filter((o) => o.jobId === job.id && o.state !== 'finished')
            .sort((a, b) => a.start - b.start);
          const o = ops.find((x) => x.people.length > 0) ?? ops[0];
          console.error(
            `  ${job.state} ${job.id} ${job.recipeId} promised ${new Date(job.promise!.pickupAt).toISOString().slice(5, 16)} next ${o?.operation} ${o?.state} ${o && new Date(o.start).toISOString().slice(5, 16)} by ${o?.people} late ${st.plan!.jobs.find((x) => x.jobId === job.id)?.lateMinutes}`,
          );
        }
        const m = st.plan!.operations.filter((o) => o.kind === 'move').slice(0, 3);
        for (const o of m)
          console.error(
            '   move',
            o.operation,
            o.placeId,
            new Date(o.start).toISOString().slice(5, 16),
            new Date(o.end).toISOString().slice(5, 16),
            o.state,
            st
              .plan!.stays.filter((x) => x.jobId === o.jobId)
              .map(
                (x) =>
                  `${x.placeId} ${new Date(x.from).toISOString().slice(5, 16)}-${new Date(x.to).toISOString().slice(5, 16)}`,
              )
              .join('; '),
          );
        for (const [rule, works] of floor.tally.shut)
          console.error(`  gate ${rule}: ${[...works].slice(-2).join(' | ')}`);
      }
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

async function report(
  seed: number,
  shop: Awaited<ReturnType<typeof openVirtualShop>>,
  floor: Floor,
  calls: Calls,
): Promise<void> {
  const { coverage, promises, spreadFactor, byRecipe } = await promiseCalibration(shop.deps, { shopId: shop.shopId });
  console.log(`### Seed ${seed}\n`);
  console.log(
    `${calls.asked} asked, ${calls.sold} sold (${figure(median(calls.daysAhead))} days ahead), ${promises} promises judged, spread factor ${figure(spreadFactor)}; ` +
      `${floor.tally.facts} facts, ${shop.planned.plans} plans and ${shop.planned.better} better ones, ${shop.planned.failed.length} failed, ` +
      `p50 ${figure(median(shop.planned.planMs))} ms, p99 ${figure(quantile(shop.planned.planMs, 0.99))}; ` +
      `${floor.tally.failedInspections} inspections failed, ${floor.tally.grownScopes} scopes grew, ${floor.tally.placeTaken.size} cars found their place taken.\n`,
  );
  console.log(
    markdownTable(
      ['given at %', 'promises', 'kept', 'kept %', 'from', 'to'],
      coverage.map((line) =>
        [line.givenPercent, line.promises, line.kept, line.keptPercent, line.fromPercent, line.toPercent].map(String),
      ),
    ),
  );
  console.log(
    byRecipe
      .map(({ name, promises, meanMinutes }) => `${name}: ${promises}, ready ${meanMinutes} minutes from its median`)
      .join('\n'),
  );
  for (const [rule, works] of floor.tally.shut)
    console.log(`gate ${rule}: ${works.size} works, such as ${[...works][0]}`);
  for (const [text, times] of calls.refused) console.log(`refused ${times}: ${text}`);
  for (const text of shop.planned.failed.slice(0, 10)) console.log(`no plan: ${text.slice(0, 300)}`);
  for (const text of shop.complaints.slice(0, 10)) console.log(`log: ${text.slice(0, 300)}`);
  console.log('');
}
