import { setTimeout as pause } from 'node:timers/promises';
import { benchBook, quoteRequests } from './bench-book.ts';
import { succeed, timedRequest } from './client.ts';
import { putBook } from './put-book.ts';
import type { ServerProcess } from './server-process.ts';
import { settledPlan } from './settled-plan.ts';

export interface QuoteFigures {
  readonly jobs: number;
  /** Questions that got slots, and those that were refused or found nothing that fits. */
  readonly ms: readonly number[];
  readonly refusedMs: readonly number[];
  /** Of those with slots, how many offered one for which others give way. */
  readonly moving: number;
  /** The first question after a slot was taken, with no time to open the book ahead. */
  readonly afterNewsMs: readonly number[];
}

interface Quote {
  readonly choices: readonly { readonly why: string; readonly dropOffAt: string; readonly pickupAt: string }[];
}

/** Long enough after the last plan that no better one is looked for. */
const QUIET_MS = 3_000;
const HOLDS = 5;
/** Between two questions: whoever asks faster hears of fewer choices. */
const BETWEEN_MS = 1_000;

/** Quotes a second after one another against a plan that stands; seeds of the cars are none of the book's. */
export async function measureQuotes(server: ServerProcess, jobs: number, seed: number, count: number) {
  const book = benchBook(jobs, seed);
  await putBook(server.databaseUrl, book);
  const shop = `${server.address}/v1/shops/${book.shop.id}`;
  await succeed(`${shop}/plan/replans`, { reason: 'bench' });
  await settledPlan(shop, QUIET_MS);
  const ms: number[] = [];
  const refusedMs: number[] = [];
  const afterNewsMs: number[] = [];
  let moving = 0;
  const held: { readonly request: unknown; readonly choice: Quote['choices'][number] }[] = [];
  for (const request of quoteRequests(jobs, count, seed + 1000)) {
    await pause(BETWEEN_MS);
    const reply = await timedRequest<Quote>(`${shop}/quotes`, request);
    if (reply.status === 409 || reply.status === 422) refusedMs.push(reply.ms);
    else if (reply.status !== 200)
      throw new Error(`quote: ${reply.status} ${JSON.stringify(reply.body).slice(0, 400)}`);
    else {
      ms.push(reply.ms);
      if (reply.body.choices.some(({ why }) => why === 'movingOthers')) moving++;
      if (held.length < HOLDS) held.push({ request, choice: reply.body.choices[0]! });
    }
  }
  for (const { request, choice } of held) {
    const { dropOffAt, pickupAt } = choice;
    await timedRequest(`${shop}/holds`, { request, dropOffAt, pickupAt, holdMinutes: 30 });
    afterNewsMs.push((await timedRequest(`${shop}/quotes`, request)).ms);
  }
  return { jobs, ms, refusedMs, moving, afterNewsMs } satisfies QuoteFigures;
}
