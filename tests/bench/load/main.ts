import { randomUUID } from 'node:crypto';
import { parseArgs } from 'node:util';
import { Random } from '../../../src/engine/improve/random.ts';
import type { Provider } from '../../../src/store/provider.ts';
import { benchBook, quoteRequests } from '../api/bench-book.ts';
import { benchTokenOf, succeed, timedRequest } from '../api/client.ts';
import { workTheFloor } from '../api/floor-client.ts';
import { putBook } from '../api/put-book.ts';
import { machine } from '../figures/machine.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { quantile } from '../figures/quantile.ts';
import { openDatabases } from '../servers/databases.ts';
import { startServer } from '../servers/server.ts';
import { type Answered, openArrivals, type Sent } from './open-arrivals.ts';

const USAGE = `usage: bench:load [--minutes 10] [--rate 300] [--rates 400,500,600] [--jobs 500] [--stores sqlite,postgresql] [--connections 300] [--one-core]
A mixed day against one server of dist/: of a hundred requests 90 read the timeline and the queue, 9 record what happened, 1 asks for a quote, each at an
instant of its own, measured from when it was due; beside them cars come and their work is started and finished, one fact in five seconds, and the server
plans again. --rate for so many minutes; then each of --rates for half a minute, to see the highest that is held. --one-core binds the server to one.`;

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '10' },
    rate: { type: 'string', default: '300' },
    rates: { type: 'string', default: '400,500,600' },
    jobs: { type: 'string', default: '500' },
    stores: { type: 'string', default: 'sqlite,postgresql' },
    // Whoever waits for a quote holds one: with few the others would wait for a connection, and not for the server.
    connections: { type: 'string', default: '300' },
    'one-core': { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});
if (values.help || !(Number(values.minutes) > 0) || !(Number(values.rate) > 0)) {
  console.error(USAGE);
  process.exit(2);
}
const SEED = 101;
const SAMPLE_MS = 5_000;
const SHORT_SECONDS = 30;
const BETWEEN_STEPS_MS = 5_000;

console.log(`## Load\n\n${machine()}\n`);
for (const provider of values.stores.split(',') as Provider[]) await loadOn(provider);
console.log(`At the end: ${machine()}`);

async function loadOn(provider: Provider): Promise<void> {
  const databases = await openDatabases(provider);
  const databaseUrl = await databases.fresh();
  const server = await startServer({ databaseUrl, oneCore: values['one-core'] });
  const jobs = Number(values.jobs);
  const book = benchBook(jobs, SEED);
  await putBook(databaseUrl, book);
  const shop = `/v1/shops/${book.shop.id}`;
  await succeed(`${server.address}${shop}/plan/replans`, { reason: 'before the load' });
  const next = await aDay(server.address, book.shop.id, book.technicians, jobs);
  const random = new Random(SEED);
  const megabytes: number[] = [];
  const sampling = setInterval(() => megabytes.push(server.memory().now), SAMPLE_MS);
  const stop = new AbortController();
  const working = workTheFloor(`${server.address}${shop}`, BETWEEN_STEPS_MS, stop.signal);
  const rows: string[][] = [];
  const byMinute: string[][] = [];
  for (const [perSecond, seconds] of [
    [Number(values.rate), Number(values.minutes) * 60] as const,
    ...values.rates
      .split(',')
      .filter(Boolean)
      .map((each) => [Number(each), SHORT_SECONDS] as const),
  ]) {
    const from = megabytes.length;
    const rhythm = { perSecond, seconds, connections: Number(values.connections) };
    const answered = await openArrivals(server.address, rhythm, random, next);
    rows.push(...rowsOf(perSecond, answered, megabytes.slice(from)));
    if (seconds > SHORT_SECONDS) byMinute.push(...minutesOf(answered, seconds, megabytes.slice(from)));
  }
  stop.abort();
  const steps = await working;
  clearInterval(sampling);
  await server.stop();
  await databases.close();
  const head = [
    'asked a second',
    'requests',
    'n',
    'answered a second',
    'p50 ms',
    'p95',
    'p99',
    'worst',
    'no success',
    'MB',
  ];
  console.log(`### ${provider}, ${jobs} open jobs${values['one-core'] ? ', the server on one core' : ''}\n`);
  console.log(`${markdownTable(head, rows)}\n`);
  if (byMinute.length > 0) {
    const head = ['minute', 'timeline p99 ms', 'queue p99', 'fact p99', 'quote p50', 'quote p99', 'MB'];
    console.log(`${markdownTable(head, byMinute)}\n`);
  }
  console.log(
    `Work started and finished beside them: ${steps.length} facts, p50 ${figure(quantile(steps, 0.5))} ms, worst ${figure(Math.max(...steps))}.\n`,
  );
}

/** One row for all, then one a kind of request. */
function rowsOf(perSecond: number, { kinds, seconds }: Answered, megabytes: readonly number[]): string[][] {
  const all = [...kinds.values()].flatMap(({ ms }) => ms);
  const failed = [...kinds.values()].flatMap(({ failed }) => failed);
  const memory = `${figure(megabytes[0] ?? Number.NaN)} to ${figure(megabytes.at(-1) ?? Number.NaN)}`;
  const line = (name: string, ms: readonly number[], failed: readonly number[], megabytes: string) => [
    String(perSecond),
    name,
    String(ms.length),
    figure(ms.length / seconds),
    ...[0.5, 0.95, 0.99, 1].map((share) => figure(quantile(ms, share))),
    withoutSuccess(failed),
    megabytes,
  ];
  return [line('all', all, failed, memory), ...[...kinds].map(([kind, { ms, failed }]) => line(kind, ms, failed, ''))];
}

/** Whether it grows slower, or larger, the longer it goes on: one row a minute. */
function minutesOf({ kinds }: Answered, seconds: number, megabytes: readonly number[]): string[][] {
  const rows: string[][] = [];
  for (let from = 0; from < seconds; from += 60) {
    const cell = (kind: string, share: number) => {
      const { ms = [], dueAt = [] } = kinds.get(kind) ?? {};
      return figure(
        quantile(
          ms.filter((_, k) => dueAt[k]! >= from && dueAt[k]! < from + 60),
          share,
        ),
      );
    };
    rows.push([
      String(from / 60 + 1),
      cell('timeline', 0.99),
      cell('queue', 0.99),
      cell('fact', 0.99),
      cell('quote', 0.5),
      cell('quote', 0.99),
      figure(megabytes[Math.floor((from * 1000) / SAMPLE_MS)] ?? Number.NaN),
    ]);
  }
  return rows;
}

/** How many got another reply than they came for, by its status; 0 is no reply. */
function withoutSuccess(statuses: readonly number[]): string {
  const counts = new Map<number, number>();
  for (const status of statuses) counts.set(status, (counts.get(status) ?? 0) + 1);
  return [...counts].map(([status, count]) => `${count} of ${status}`).join(', ') || '0';
}

/** Those of some cars that the trade has nothing against: an obstacle is no answer to be waited for. */
async function bookable(quotes: string, requests: readonly unknown[]): Promise<readonly unknown[]> {
  const fit: unknown[] = [];
  for (const request of requests) if ((await timedRequest(quotes, request)).status === 200) fit.push(request);
  return fit;
}

/** A hundred requests in the proportions of the day, again and again, each for the next day or person; the facts are notes, which may be told without end. */
async function aDay(address: string, shopId: string, technicians: readonly { readonly id: string }[], jobs: number) {
  const shop = `/v1/shops/${shopId}`;
  const { body: plan } = await succeed<{ jobs: readonly { jobId: string; dropOffAt: string }[] }>(
    `${address}${shop}/plan`,
  );
  const headers = { authorization: `Bearer ${benchTokenOf(shopId)}` };
  const posting = { ...headers, 'content-type': 'application/json' };
  const days = [...new Set(plan.jobs.map(({ dropOffAt }) => dropOffAt.slice(0, 10)))].sort().slice(0, 5);
  const quotes = await bookable(`${address}${shop}/quotes`, quoteRequests(jobs, 100, SEED));
  return (k: number): Sent => {
    if (k % 100 === 99) {
      const body = JSON.stringify(quotes[Math.floor(k / 100) % quotes.length]);
      return { kind: 'quote', method: 'POST', path: `${shop}/quotes`, headers: posting, body };
    }
    if (k % 11 === 10) {
      const clientId = randomUUID();
      const fact = { kind: 'noted', operation: null, text: 'as it was seen' };
      return {
        kind: 'fact',
        method: 'POST',
        path: `${shop}/jobs/${plan.jobs[k % plan.jobs.length]!.jobId}/floor-events`,
        headers: { ...posting, 'idempotency-key': clientId },
        body: JSON.stringify({ clientId, occurredAt: new Date().toISOString(), fact }),
      };
    }
    const pair = Math.floor(k / 2);
    if (k % 2 === 0)
      return { kind: 'timeline', method: 'GET', path: `${shop}/timeline?day=${days[pair % days.length]}`, headers };
    const { id } = technicians[pair % technicians.length]!;
    return { kind: 'queue', method: 'GET', path: `${shop}/technicians/${id}/queue`, headers };
  };
}
