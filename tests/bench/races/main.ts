import { parseArgs } from 'node:util';
import { openStore } from '../../../src/store/open-store.ts';
import type { Provider } from '../../../src/store/provider.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { succeed } from '../api/client.ts';
import { putBook } from '../api/put-book.ts';
import { settledPlan } from '../api/settled-plan.ts';
import { machine } from '../figures/machine.ts';
import { markdownTable } from '../figures/markdown-table.ts';
import { faultsOfPlans } from '../integrity/faults-of-plans.ts';
import { faultsOfRows } from '../integrity/faults-of-rows.ts';
import { openDatabases } from '../servers/databases.ts';
import { startServer } from '../servers/server.ts';
import { A_SHOP, CARS, KINDS, volleysOf } from './attempts.ts';
import { type BareRace, raceBare } from './bare-constraints.ts';
import { faultsOfOutcomes } from './judge.ts';
import { Clients, type Outcome, race } from './race.ts';
import { raceShop } from './race-shop.ts';
import { raceStores } from './race-stores.ts';
import { STORE_KINDS, type StoreOutcome } from './store-racer.ts';

const USAGE = `usage: bench:races [--attempts 10000] [--over-http 1000] [--servers 2] [--clients 32] [--stores sqlite,postgresql] [--bare 2000]
So many of the attempts over HTTP: server processes of dist/ on one database, clients that book, hold, move, start, change and replan at once; the
rest by processes that open the store as a server does. Half of all want one place and time. Then what is stored is judged by the database, by
the checker and against what was acknowledged. --bare: attempts more past the application. Exits with 1 on any fault.`;

const { values } = parseArgs({
  options: {
    attempts: { type: 'string', default: '10000' },
    'over-http': { type: 'string', default: '1000' },
    servers: { type: 'string', default: '2' },
    clients: { type: 'string', default: '32' },
    stores: { type: 'string', default: 'sqlite,postgresql' },
    bare: { type: 'string', default: '2000' },
    help: { type: 'boolean', default: false },
  },
});
const shops = Math.ceil(Number(values['over-http']) / A_SHOP);
if (values.help || !(shops > 0) || !(Number(values.servers) > 0)) {
  console.error(USAGE);
  process.exit(2);
}
/** Shops raced on at once. */
const AT_ONCE = 2;
/** No plan for so long: the search for a better one has ended everywhere. */
const QUIET_MS = 600;

console.log(`## Races\n\n${machine()}\n`);
for (const provider of values.stores.split(',') as Provider[]) await raceOn(provider);
console.log(`At the end: ${machine()}`);

async function raceOn(provider: Provider): Promise<void> {
  const databases = await openDatabases(provider);
  const databaseUrl = await databases.fresh();
  const env = { PLAN_BUDGET_MS: '50' };
  const first = await startServer({ databaseUrl, env });
  const others = Array.from({ length: Number(values.servers) - 1 }, () => startServer({ databaseUrl, env }));
  const servers = [first, ...(await Promise.all(others))];
  const addresses = servers.map(({ address }) => address);
  const clients = new Clients(Number(values.clients));
  const outcomes: Outcome[] = [];
  const faults: string[] = [];
  const began = performance.now();
  const books: Book[] = [];
  const ids = Array.from({ length: shops }, (_, k) => ShopId.parse(`race-${k + 1}`));
  const left = [...ids];
  const store = await openStore({ databaseUrl });
  const runner = async () => {
    for (let shopId = left.shift(); shopId !== undefined; shopId = left.shift()) {
      const shop = raceShop(shopId, CARS, Date.now() as Instant);
      await putBook(databaseUrl, shop.book);
      books.push(shop.book);
      const address = `${addresses[0]}/v1/shops/${shopId}`;
      await succeed(`${address}/plan/replans`, { reason: 'before the race' });
      outcomes.push(...(await race(addresses, shopId, volleysOf(shopId, shop), clients)));
      // Facts have followed the last plan: the one that is judged knows of them.
      await succeed(`${address}/plan/replans`, { reason: 'after the race' });
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, runner));
  const seconds = (performance.now() - began) / 1000;
  await settledPlan(`${addresses[0]}/v1/shops/${ids.at(-1)}`, QUIET_MS);
  const codes = await Promise.all(servers.map((server) => server.stop()));
  if (codes.some((code) => code !== 0)) faults.push(`servers ended with ${codes.join(', ')}`);
  faults.push(...(await faultsOfRows(databaseUrl)), ...(await faultsOfOutcomes(databaseUrl, outcomes)));
  for (const shopId of ids) faults.push(...(await faultsOfPlans(store, shopId)));
  const most = Math.max(0, Number(values.attempts) - outcomes.length);
  const storesBegan = performance.now();
  const stores = await raceStores(databaseUrl, books, most, Number(values.servers));
  const storeSeconds = (performance.now() - storesBegan) / 1000;
  faults.push(...stores.faults, ...(await faultsOfRows(databaseUrl)));
  for (const shopId of ids) faults.push(...(await faultsOfPlans(store, shopId)));
  await store.close();
  const bare = await raceBare(databaseUrl, ids[0]!, Math.ceil(Number(values.bare) / 2));
  if (bare.won + bare.refused !== bare.attempts) faults.push('a bare attempt has no outcome');
  await databases.close();
  reportHttp(provider, outcomes, seconds);
  reportStores(provider, stores.outcomes, storeSeconds);
  reportFaults(faults, bare);
}

function reportHttp(provider: Provider, outcomes: readonly Outcome[], seconds: number): void {
  const asked = KINDS.filter((kind) => outcomes.some(({ attempt }) => attempt.kind === kind));
  const rows = asked.map((kind) => {
    const mine = outcomes.filter(({ attempt }) => attempt.kind === kind);
    return [
      kind,
      String(mine.length),
      String(mine.filter(({ problem }) => problem === '').length),
      counted(mine.map((each) => each.problem)),
    ];
  });
  const head = ['over HTTP', 'n', 'answered with success', 'refused'];
  console.log(
    `### ${provider}: ${outcomes.length} attempts over HTTP, ${values.servers} servers, ${Math.round(seconds)} s\n`,
  );
  console.log(`${markdownTable(head, rows)}\n`);
}

function reportStores(provider: Provider, outcomes: readonly StoreOutcome[], seconds: number): void {
  const rows = STORE_KINDS.map((kind) => {
    const mine = outcomes.filter((each) => each.kind === kind);
    const others = mine.map(({ what }) => (what === 'won' ? '' : what));
    return [kind, String(mine.length), String(others.filter((what) => what === '').length), counted(others)];
  });
  const head = ['at the store', 'n', 'won', 'refused'];
  console.log(
    `### ${provider}: ${outcomes.length} attempts at the store, ${values.servers} processes, ${Math.round(seconds)} s\n`,
  );
  console.log(`${markdownTable(head, rows)}\n`);
}

/** How often each was said, the most frequent first; the empty one left out. */
function counted(said: readonly string[]): string {
  const times = new Map<string, number>();
  for (const each of said) if (each !== '') times.set(each, (times.get(each) ?? 0) + 1);
  return [...times]
    .sort((a, b) => b[1] - a[1])
    .map(([each, n]) => `${each} ${n}`)
    .join(', ');
}

function reportFaults(faults: readonly string[], bare: BareRace): void {
  console.log(
    `Past the application, two processes, one place: ${bare.attempts} attempts, ${bare.won} won, ${bare.refused} refused by the database.\n`,
  );
  const all = [...faults, ...bare.faults];
  console.log(`Faults found: ${all.length}`);
  for (const fault of all.slice(0, 40)) console.log(`- ${fault}`);
  console.log('');
  if (all.length > 0) process.exitCode = 1;
}
