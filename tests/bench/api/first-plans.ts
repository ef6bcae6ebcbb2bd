import { atRest } from './at-rest.ts';
import { benchBook } from './bench-book.ts';
import { succeed } from './client.ts';
import { putBook } from './put-book.ts';
import { startServer } from './server-process.ts';

interface Replanned {
  readonly published: boolean;
  readonly plan: { readonly madeAt: string; readonly objective: readonly { tier: string; value: number }[] };
}

export interface FirstPlans {
  readonly jobs: number;
  readonly startMs: readonly number[];
  /** The first request of a server that has planned no shop yet. */
  readonly coldMs: readonly number[];
  /** First plans of other shops, from then on. */
  readonly warmMs: readonly number[];
  /** Processor time of the warm ones, all threads of the server. */
  readonly warmProcessorMs: readonly number[];
  /** Planning a shop again whose plan stands. */
  readonly againMs: readonly number[];
}

/** Least wall time for bettering a plan that the server can be set to, so that the search leaves the next book in peace. */
const LEAST_BUDGET_MS = 50;

/** From the request for a plan to its reply: loaded, formulated, planned, checked, stored, written out. All but the first of a new process are asked of a server at rest. */
export async function measureFirstPlans(jobs: number, starts: number, seeds: readonly number[]): Promise<FirstPlans> {
  const startMs: number[] = [];
  const coldMs: number[] = [];
  const warmMs: number[] = [];
  const warmProcessorMs: number[] = [];
  const againMs: number[] = [];
  for (let start = 0; start < starts; start++) {
    const server = await startServer(LEAST_BUDGET_MS);
    try {
      startMs.push(server.startMs);
      for (const [k, seed] of seeds.entries()) {
        const book = benchBook(jobs, seed);
        await putBook(server.databaseUrl, book);
        const url = `${server.address}/v1/shops/${book.shop.id}/plan/replans`;
        if (k > 0) await atRest(server);
        const worked = server.processorMs();
        const first = await succeed<Replanned>(url, { reason: 'bench' });
        if (!first.body.published) throw new Error(`${url}: nothing was published`);
        (k === 0 ? coldMs : warmMs).push(first.ms);
        if (k > 0) warmProcessorMs.push(server.processorMs() - worked);
        await atRest(server);
        againMs.push((await succeed(url, { reason: 'bench' })).ms);
      }
    } finally {
      await server.stop();
    }
  }
  return { jobs, startMs, coldMs, warmMs, warmProcessorMs, againMs };
}
