import { benchBook, quoteRequests } from './bench-book.ts';
import { succeed, timedRequest } from './client.ts';
import { putBook } from './put-book.ts';
import type { ServerProcess } from './server-process.ts';

export interface QuoteFigures {
  readonly jobs: number;
  readonly ms: readonly number[];
  /** Requests that got no slot: refused, or nothing fits. */
  readonly without: number;
}

/** Quotes one after another against a plan that stands; seeds of the cars are none of the book's. */
export async function measureQuotes(server: ServerProcess, jobs: number, seed: number, count: number) {
  const book = benchBook(jobs, seed);
  await putBook(server.databaseUrl, book);
  const shop = `${server.address}/v1/shops/${book.shop.id}`;
  await succeed(`${shop}/plan/replans`, { reason: 'bench' });
  const ms: number[] = [];
  let without = 0;
  for (const request of quoteRequests(jobs, count, seed + 1000)) {
    const reply = await timedRequest(`${shop}/quotes`, request);
    if (reply.status === 409 || reply.status === 422) without++;
    else if (reply.status !== 200)
      throw new Error(`quote: ${reply.status} ${JSON.stringify(reply.body).slice(0, 400)}`);
    ms.push(reply.ms);
  }
  return { jobs, ms, without } satisfies QuoteFigures;
}
