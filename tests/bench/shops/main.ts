import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { openStore } from '../../../src/store/open-store.ts';
import { openPlanningQueue } from '../../../src/store/planning-queue.ts';
import type { PlanningQueue, Store } from '../../../src/store/store.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { putBookIn } from '../api/put-book.ts';
import { makeSeedBook } from '../books/seed-book.ts';
import { machine } from '../figures/machine.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { quantile } from '../figures/quantile.ts';
import { faultsOfRows } from '../integrity/faults-of-rows.ts';
import { rowsOf } from '../integrity/rows.ts';
import { openDatabases } from '../servers/databases.ts';
import { type Server, startServer } from '../servers/server.ts';

const USAGE = `usage: bench:shops [--shops 1000] [--jobs 40] [--workers 1,2,4] [--plans 60] [--kill]
Shops with so many open jobs each on one PostgreSQL. For each number of planning workers (processes of dist/worker.js) --plans shops ask for a
plan at once: plans an hour, how long the shops waited, and whether each was planned once and in its turn. --kill: one worker is killed meanwhile.`;

const { values } = parseArgs({
  options: {
    shops: { type: 'string', default: '1000' },
    jobs: { type: 'string', default: '40' },
    workers: { type: 'string', default: '1,2,4' },
    plans: { type: 'string', default: '60' },
    kill: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});
const counts = values.workers.split(',').map(Number);
if (values.help || [Number(values.shops), Number(values.jobs), Number(values.plans), ...counts].some((n) => !(n > 0))) {
  console.error(USAGE);
  process.exit(2);
}
/** Shops that differ; the others have the same cars as one of them. */
const SEEDS = 20;
const MOST_MS = 30 * 60_000;
const faults: string[] = [];

console.log(`## Many shops\n\n${machine()}\n`);
const databases = await openDatabases('postgresql');
const databaseUrl = await databases.fresh();
// Makes the tables.
await (await startServer({ databaseUrl, env: { PLANNING: 'queued' } })).stop();
const now = (Math.floor(Date.now() / 60_000) * 60_000) as Instant;
const began = performance.now();
const store = await openStore({ databaseUrl });
const ids = Array.from({ length: Number(values.shops) }, (_, k) => ShopId.parse(`shop-${k + 1}`));
for (const [k, shopId] of ids.entries()) {
  await putBookIn(store, makeSeedBook({ shopId, seed: 1 + (k % SEEDS), jobs: Number(values.jobs), copies: 1, now }));
}
const [{ bytes } = { bytes: 0 }] = await rowsOf(databaseUrl, 'SELECT pg_database_size(current_database()) AS "bytes"');
console.log(
  `${ids.length} shops with ${values.jobs} open jobs written in ${figure((performance.now() - began) / 1000)} s; ${figure(Number(bytes) / 1e6)} MB.\n`,
);
const queue = await openPlanningQueue(databaseUrl);
const rows: string[][] = [];
let next = 0;
for (const workers of counts) rows.push(await measure(store, queue, workers));
const head = [
  'workers',
  'plans',
  'seconds',
  'plans an hour',
  'wait p50 s',
  'wait p95 s',
  'longest s',
  'out of turn',
  'MB each',
];
console.log(`${markdownTable(head, rows)}\n`);
faults.push(...(await faultsOfPlanned()));
console.log(`Faults found: ${faults.length}`);
for (const fault of faults.slice(0, 40)) console.log(`- ${fault}`);
console.log(`\nAt the end: ${machine()}`);
await queue.close();
await store.close();
await databases.close();
if (faults.length > 0) process.exitCode = 1;

/** So many shops ask at once; the better plans that follow are not waited for, and give way. */
async function measure(store: Store, queue: PlanningQueue, workers: number): Promise<string[]> {
  const asking = Array.from({ length: Number(values.plans) }, () => ids[next++ % ids.length]!);
  const versions = new Map<ShopId, number>();
  for (const shopId of asking) versions.set(shopId, await store.plans.currentVersion(shopId));
  const servers = await Promise.all(
    Array.from({ length: workers }, () =>
      startServer({ databaseUrl, entry: 'worker.js', env: { PLAN_BUDGET_MS: '50' } }),
    ),
  );
  const since = performance.now();
  for (const shopId of asking)
    await queue.ask('plan', { shopId, reason: 'bench', who: 'bench', requestId: `bench-${shopId}` });
  const plannedAt = new Map<ShopId, number>();
  let killed: Server | null = null;
  while (plannedAt.size < asking.length && performance.now() - since < MOST_MS) {
    await pause(50);
    const planned = await rowsOf(databaseUrl, `SELECT "id", "planVersion" FROM "Shop" WHERE "planVersion" > 0`);
    for (const { id, planVersion } of planned) {
      const shopId = id as ShopId;
      if (versions.has(shopId) && Number(planVersion) > versions.get(shopId)! && !plannedAt.has(shopId)) {
        plannedAt.set(shopId, performance.now());
      }
    }
    if (values.kill && killed === null && plannedAt.size >= asking.length / 4) {
      killed = servers.pop()!;
      await killed.kill();
      servers.push(await startServer({ databaseUrl, entry: 'worker.js', env: { PLAN_BUDGET_MS: '50' } }));
    }
  }
  const seconds = (performance.now() - since) / 1000;
  const missing = asking.filter((shopId) => !plannedAt.has(shopId));
  if (missing.length > 0)
    faults.push(`${workers} workers: ${missing.length} of ${asking.length} shops were not planned`);
  const megabytes = servers.map((server) => server.memory().peak);
  const codes = await Promise.all(servers.map((server) => server.stop()));
  if (codes.some((code) => code !== 0)) faults.push(`workers ended with ${codes.join(', ')}`);
  const waits = asking.flatMap((shopId) => (plannedAt.has(shopId) ? [(plannedAt.get(shopId)! - since) / 1000] : []));
  return [
    `${workers}${killed === null ? '' : ', one killed'}`,
    String(waits.length),
    figure(seconds),
    figure(Math.round((waits.length / seconds) * 3_600)),
    figure(quantile(waits, 0.5)),
    figure(quantile(waits, 0.95)),
    figure(quantile(waits, 1)),
    String(outOfTurn(asking, plannedAt, workers)),
    figure(Math.round(Math.max(...megabytes))),
  ];
}

/** How many shops were overtaken by more than those that the workers have in hand at once: a share each, no more. */
function outOfTurn(asking: readonly ShopId[], plannedAt: ReadonlyMap<ShopId, number>, workers: number): number {
  return asking.filter((shopId, k) => {
    const mine = plannedAt.get(shopId) ?? Number.POSITIVE_INFINITY;
    const overtaking = asking.slice(k + 1).filter((other) => (plannedAt.get(other) ?? Number.POSITIVE_INFINITY) < mine);
    return overtaking.length > 2 * workers;
  }).length;
}

/** Each ask made one first plan, and what is stored is whole. */
async function faultsOfPlanned(): Promise<string[]> {
  const twice = await rowsOf(
    databaseUrl,
    `SELECT "shopId", count(*) AS "times" FROM "PlanVersion" WHERE "summary" LIKE '%"reason":"bench"%'
     GROUP BY "shopId" HAVING count(*) > ${Math.ceil((counts.length * Number(values.plans)) / ids.length)}`,
  );
  const unplanned = 'an open job that is not planned';
  const rowsAgainst = (await faultsOfRows(databaseUrl)).filter((fault) => !fault.startsWith(unplanned));
  return [...twice.map((row) => `planned twice for one ask: ${JSON.stringify(row)}`), ...rowsAgainst];
}
