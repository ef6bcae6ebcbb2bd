import { setTimeout as pause } from 'node:timers/promises';
import { openStore } from '../../../src/store/open-store.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import type { SeededRandom } from '../../engine/random/seeded-random.ts';
import { succeed } from '../api/client.ts';
import { putBook } from '../api/put-book.ts';
import { faultsOfPlans } from '../integrity/faults-of-plans.ts';
import { faultsOfRows } from '../integrity/faults-of-rows.ts';
import { CARS, notesOf, volleysOf } from '../races/attempts.ts';
import { faultsOfOutcomes } from '../races/judge.ts';
import { Clients, race } from '../races/race.ts';
import { raceShop } from '../races/race-shop.ts';
import type { Databases } from '../servers/databases.ts';
import { startServer } from '../servers/server.ts';

export interface Killed {
  readonly kills: number;
  readonly acknowledged: number;
  readonly unanswered: number;
  readonly faults: readonly string[];
}

const LONGEST_MS = 5_000;
/** Kills on one database, before a fresh one keeps what has to be planned at a start small. */
const KILLS_EACH = 10;
const CLIENTS = 24;
const DEVICES = 2;
const NOTES = 20;

/**
 * Kills a server at a random moment while cars are booked, held, moved, started and replanned, and starts it again on what is left: what was
 * acknowledged is there, nothing is half there, and what it plans next passes the checker.
 */
export async function killAtWork(databases: Databases, kills: number, random: SeededRandom): Promise<Killed> {
  const faults: string[] = [];
  let acknowledged = 0;
  let unanswered = 0;
  let databaseUrl = '';
  for (let kill = 0; kill < kills; kill += 1) {
    if (kill % KILLS_EACH === 0) databaseUrl = await databases.fresh();
    const server = await startServer({ databaseUrl, env: { PLAN_BUDGET_MS: '50' } });
    const shopId = ShopId.parse(`kill-${kill + 1}`);
    const shop = raceShop(shopId, CARS, Date.now() as Instant);
    await putBook(databaseUrl, shop.book);
    await succeed(`${server.address}/v1/shops/${shopId}/plan/replans`, { reason: 'before the kill' });
    const afterMs = random.whole(0, LONGEST_MS);
    const volleys = [...notesOf(shopId, DEVICES, NOTES), ...volleysOf(shopId, shop)];
    const racing = race([server.address], shopId, volleys, new Clients(CLIENTS), true);
    await pause(afterMs);
    await server.kill();
    const outcomes = await racing;
    acknowledged += outcomes.filter(({ status }) => status >= 200 && status < 300).length;
    unanswered += outcomes.filter(({ status }) => status === 0).length;
    const found = [...(await faultsOfRows(databaseUrl)), ...(await faultsOfOutcomes(databaseUrl, outcomes, true))];
    found.push(...(await afterRestart(databaseUrl, shopId)));
    console.error(
      `kill ${kill + 1} of ${kills} after ${afterMs} ms: ${acknowledged} acknowledged so far, ${found.length} faults`,
    );
    faults.push(...found.map((each) => `kill ${kill + 1} after ${afterMs} ms: ${each}`));
  }
  return { kills, acknowledged, unanswered, faults };
}

/** Starts again, without hands, and lets it plan. */
async function afterRestart(databaseUrl: string, shopId: ShopId): Promise<string[]> {
  const server = await startServer({ databaseUrl, env: { PLAN_BUDGET_MS: '50' } });
  await succeed(`${server.address}/v1/shops/${shopId}/plan/replans`, { reason: 'after the kill' });
  const code = await server.stop();
  const store = await openStore({ databaseUrl });
  try {
    const faults = await faultsOfPlans(store, shopId);
    return code === 0 ? faults : [...faults, `stopped with ${code}`];
  } finally {
    await store.close();
  }
}
