import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { openStore } from '../../../src/store/open-store.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import type { PlaceId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { rowsOf } from '../integrity/rows.ts';
import { ATTEMPTS_OF_A_ROUND, type Round, STORE_KINDS, type StoreOutcome } from './store-racer.ts';

const HOUR = 3_600_000;
/** Beyond what any plan takes. */
const FAR_AHEAD_MS = 60 * 24 * HOUR;

/**
 * Processes that each open the store race through rounds of attempts that one of all can win: at a place and time, at a version of a
 * job, at a version of the plan, at a fact, at a request.
 */
export async function raceStores(
  databaseUrl: string,
  books: readonly Book[],
  attempts: number,
  processes: number,
): Promise<{ outcomes: StoreOutcome[]; faults: string[] }> {
  const code = fileURLToPath(new URL('./store-racer.js', import.meta.url));
  const racers = await Promise.all(
    Array.from({ length: processes }, async (_, k) => {
      const racer = fork(code, [databaseUrl, `racer${k + 1}`]);
      await once(racer, 'message');
      return racer;
    }),
  );
  const store = await openStore({ databaseUrl });
  const outcomes: StoreOutcome[] = [];
  const rounds = Math.ceil(attempts / (ATTEMPTS_OF_A_ROUND * processes));
  const began = Math.ceil(Date.now() / HOUR) * HOUR + FAR_AHEAD_MS;
  for (let number = 0; number < rounds; number += 1) {
    const { shop, jobs } = books[number % books.length]!;
    const jobId = jobs[number % jobs.length]!.id;
    const round: Round = {
      number,
      shopId: shop.id,
      jobId,
      jobVersion: (await store.jobs.get(shop.id, jobId))!.version,
      planVersion: await store.plans.currentVersion(shop.id),
      placeId: 'bay1' as PlaceId,
      from: (began + number * HOUR) as Instant,
      to: (began + (number + 1) * HOUR) as Instant,
    };
    for (const each of await Promise.all(racers.map((racer) => ask(racer, round)))) outcomes.push(...each);
  }
  await store.close();
  for (const racer of racers) {
    racer.send('end');
    await once(racer, 'exit');
  }
  return { outcomes, faults: [...winners(outcomes, rounds), ...(await whatStands(databaseUrl, outcomes))] };
}

async function ask(racer: ChildProcess, round: Round): Promise<StoreOutcome[]> {
  racer.send(round);
  return (await once(racer, 'message'))[0] as StoreOutcome[];
}

/** Exactly one of each kind and round, and nothing but refusals for the others. */
function winners(outcomes: readonly StoreOutcome[], rounds: number): string[] {
  const faults = outcomes.filter(({ what }) => what.startsWith('fault')).map(({ kind, what }) => `${kind}: ${what}`);
  for (const kind of STORE_KINDS) {
    const won = new Map<number, number>();
    for (const each of outcomes) {
      if (each.kind === kind && each.what === 'won') won.set(each.round, (won.get(each.round) ?? 0) + 1);
    }
    for (let round = 0; round < rounds; round += 1) {
      if (won.get(round) !== 1) faults.push(`${kind}, round ${round}: ${won.get(round) ?? 0} won`);
    }
  }
  return faults;
}

/** Who was told that they won is who is there. */
async function whatStands(databaseUrl: string, outcomes: readonly StoreOutcome[]): Promise<string[]> {
  const there = async (statement: string) => (await rowsOf(databaseUrl, statement)).map(({ by }) => String(by)).sort();
  const won = (kind: StoreOutcome['kind']) =>
    outcomes
      .filter((each) => each.kind === kind && each.what === 'won')
      .map(({ by }) => by)
      .sort();
  const same = (what: string, told: readonly string[], stored: readonly string[]) =>
    JSON.stringify(told) === JSON.stringify(stored) ? [] : [`${what}: ${told.length} told, ${stored.length} there`];
  const holds = await there(`SELECT "owner" AS "by" FROM "Occupancy" WHERE "owner" LIKE 'racer%'`);
  const facts = await rowsOf(databaseUrl, `SELECT "fact" FROM "FloorEvent" WHERE "clientId" LIKE 'fact-of-round-%'`);
  const texts = facts.map(({ fact }) => (JSON.parse(String(fact)) as { text: string }).text).sort();
  const plans = (await rowsOf(databaseUrl, `SELECT "summary" FROM "PlanVersion" WHERE "summary" LIKE '%racer%'`))
    .map(({ summary }) => (JSON.parse(String(summary)) as { reason: string }).reason)
    .sort();
  return [
    ...same('holds', won('hold the same place and time'), holds),
    ...same('facts', won('tell the same fact'), texts),
    ...same('plans', won('publish a plan after one version'), plans),
  ];
}
