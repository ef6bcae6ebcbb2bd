import { setTimeout as pause } from 'node:timers/promises';
import { benchBook } from './bench-book.ts';
import { succeed } from './client.ts';
import { workTheFloor } from './floor-client.ts';
import { putBook } from './put-book.ts';
import type { ServerProcess } from './server-process.ts';

export interface DayReads {
  readonly jobs: number;
  readonly quietMs: readonly number[];
  /** While another client starts and finishes work, and the server plans again after each. */
  readonly busyMs: readonly number[];
  readonly factMs: readonly number[];
  readonly replanMs: readonly number[];
  readonly memory: { readonly idle: number; readonly planned: number; readonly peak: number };
}

const BETWEEN_READS_MS = 20;
const BETWEEN_FACTS_MS = 250;

/** Plans a book in a fresh server, looks at its memory, then reads the day as a screen on the wall does. */
export async function measureDay(server: ServerProcess, jobs: number, seed: number, reads: number, replans: number) {
  const book = benchBook(jobs, seed);
  const idle = server.memory().now;
  await putBook(server.databaseUrl, book);
  const shop = `${server.address}/v1/shops/${book.shop.id}`;
  const replanMs: number[] = [];
  await succeed(`${shop}/plan/replans`, { reason: 'bench' });
  const planned = server.memory();
  for (let k = 0; k < replans; k++) replanMs.push((await succeed(`${shop}/plan/replans`, { reason: 'bench' })).ms);

  const day = await firstDay(shop);
  const read = async () => {
    const ms: number[] = [];
    for (let k = 0; k < reads; k++) {
      ms.push((await succeed(`${shop}/timeline?day=${day}`)).ms);
      await pause(BETWEEN_READS_MS);
    }
    return ms;
  };
  const quietMs = await read();
  const stop = new AbortController();
  const working = workTheFloor(shop, BETWEEN_FACTS_MS, stop.signal);
  const busyMs = await read();
  stop.abort();
  const factMs = await working;
  return {
    jobs,
    quietMs,
    busyMs,
    factMs,
    replanMs,
    memory: { idle, planned: planned.now, peak: planned.peak },
  } satisfies DayReads;
}

/** The first day of the plan on which cars come. */
async function firstDay(shop: string): Promise<string> {
  const { body } = await succeed<{ jobs: readonly { dropOffAt: string }[] }>(`${shop}/plan`);
  return body.jobs.map((job) => job.dropOffAt.slice(0, 10)).sort()[0]!;
}
