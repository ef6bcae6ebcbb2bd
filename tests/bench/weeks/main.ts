import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import type { Instant } from '../../../src/trade/model/time.ts';
import { machine } from '../figures/machine.ts';
import { openDatabases } from '../servers/databases.ts';
import { commonShares, everyHappening, happenings, nothingHappens, sharesBy } from './happenings.ts';
import { report } from './report.ts';
import { BEGIN, runWeeks } from './run-weeks.ts';
import { tracer } from './tracer.ts';
import { openVirtualShop } from './virtual-shop.ts';

const USAGE = `usage: bench:weeks [--cars 40] [--seeds 1,2] [--day-deviation 0.05] [--scope-grows 0.2] [--most-days 60] [--trace] [--nothing-else]
${everyHappening.map((kind) => `  [--${kind} ${happenings[kind].share}] share of ${happenings[kind].of}: ${happenings[kind].words}`).join('\n')}
The seed's shop from its first car to its last, minute by minute with a clock of its own: customers call and take one of the slots they are
offered, cars come, people do what the plan says in the time that the work really takes, inspections fail and scopes grow, and the
server plans again. Beside that happens what happens in a shop, in the shares above; --nothing-else leaves it out but for the shares that are given. What was promised is compared with what came of it. --trace tells of each plan that makes a car ready later by half an hour.`;

const { values } = parseArgs({
  options: {
    cars: { type: 'string', default: '40' },
    seeds: { type: 'string', default: '1' },
    'day-deviation': { type: 'string', default: '0.05' },
    'scope-grows': { type: 'string', default: '0.2' },
    'most-days': { type: 'string', default: '60' },
    trace: { type: 'boolean', default: false },
    'nothing-else': { type: 'boolean', default: false },
    ...Object.fromEntries(everyHappening.map((kind) => [kind, { type: 'string' as const }])),
    help: { type: 'boolean', default: false },
  },
});
if (values.help || !(Number(values.cars) > 0)) {
  console.error(USAGE);
  process.exit(2);
}
const given: Readonly<Record<string, unknown>> = values;
const usual = values['nothing-else'] ? nothingHappens : commonShares;
const shares = sharesBy((kind) => Number(given[kind] ?? usual[kind]));
const DAY = 1440 * 60_000;

// The compiled server's own: its migrations lie beside it.
const { migrate } = await import(pathToFileURL(join('dist', 'store', 'migration', 'migrate.js')).href);

console.log(`## Weeks of a shop\n\n${machine()}\n`);
for (const seed of values.seeds.split(',').map(Number)) {
  const databases = await openDatabases('sqlite');
  const databaseUrl = await databases.fresh();
  await migrate({ databaseUrl });
  const trace = values.trace ? tracer() : undefined;
  const shop = await openVirtualShop(databaseUrl, BEGIN);
  const run = await runWeeks(shop, {
    seed,
    cars: Number(values.cars),
    dayDeviation: Number(values['day-deviation']),
    scopeGrows: Number(values['scope-grows']),
    shares,
    until: (BEGIN + Number(values['most-days']) * DAY) as Instant,
    onDay: (words) => console.error(words),
    ...(trace ? { onPlan: trace } : {}),
  });
  await report(seed, shop, run);
  await shop.deps.store.close();
  await databases.close();
}
console.log(`At the end: ${machine()}`);
