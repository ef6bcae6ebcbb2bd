import { randomUUID } from 'node:crypto';
import { parseArgs } from 'node:util';
import autocannon, { type Request, type Result } from 'autocannon';
import type { Provider } from '../../../src/store/provider.ts';
import { benchBook, quoteRequests } from '../api/bench-book.ts';
import { benchTokenOf, succeed } from '../api/client.ts';
import { putBook } from '../api/put-book.ts';
import { machine } from '../figures/machine.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { openDatabases } from '../servers/databases.ts';
import { startServer } from '../servers/server.ts';

const USAGE = `usage: bench:load [--minutes 10] [--rate 300] [--rates 600,1200] [--jobs 500] [--stores sqlite,postgresql] [--connections 40]
A mixed day against one server of dist/: of a hundred requests 90 read the timeline and the queue, 9 record what happened, 1 asks for a quote. --rate for
so many minutes; then each of --rates for half a minute, to see the highest that is held.`;

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '10' },
    rate: { type: 'string', default: '300' },
    rates: { type: 'string', default: '600,1200' },
    jobs: { type: 'string', default: '500' },
    stores: { type: 'string', default: 'sqlite,postgresql' },
    connections: { type: 'string', default: '40' },
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

console.log(`## Load\n\n${machine()}\n`);
for (const provider of values.stores.split(',') as Provider[]) await loadOn(provider);
console.log(`At the end: ${machine()}`);

async function loadOn(provider: Provider): Promise<void> {
  const databases = await openDatabases(provider);
  const databaseUrl = await databases.fresh();
  const server = await startServer({ databaseUrl });
  const jobs = Number(values.jobs);
  const book = benchBook(jobs, SEED);
  await putBook(databaseUrl, book);
  const shop = `/v1/shops/${book.shop.id}`;
  await succeed(`${server.address}${shop}/plan/replans`, { reason: 'before the load' });
  const { body: plan } = await succeed<{ jobs: readonly { jobId: string; dropOffAt: string }[] }>(
    `${server.address}${shop}/plan`,
  );
  const requests = aDay(
    book.shop.id,
    plan.jobs,
    book.technicians.map(({ id }) => id),
    jobs,
  );
  const rows: string[][] = [];
  const megabytes: number[] = [];
  const sampling = setInterval(() => megabytes.push(server.memory().now), SAMPLE_MS);
  for (const [rate, seconds] of [
    [Number(values.rate), Number(values.minutes) * 60] as const,
    ...values.rates
      .split(',')
      .filter(Boolean)
      .map((each) => [Number(each), SHORT_SECONDS] as const),
  ]) {
    const from = megabytes.length;
    const options = {
      url: server.address,
      connections: Number(values.connections),
      duration: seconds,
      overallRate: rate,
    };
    rows.push(row(rate, seconds, await autocannon({ ...options, requests }), megabytes.slice(from)));
  }
  clearInterval(sampling);
  await server.stop();
  await databases.close();
  const head = [
    'asked a second',
    'answered',
    's',
    'p50 ms',
    'p97.5',
    'p99',
    'worst',
    'no success',
    'MB at first',
    'MB at last',
  ];
  console.log(`### ${provider}, ${jobs} open jobs\n\n${markdownTable(head, rows)}\n`);
}

function row(rate: number, seconds: number, result: Result, megabytes: readonly number[]) {
  const { latency, requests } = result;
  return [
    String(rate),
    figure(requests.total / seconds),
    figure(seconds),
    ...[latency.p50, latency.p97_5, latency.p99, latency.max].map(figure),
    withoutSuccess(result),
    figure(Math.round(megabytes[0] ?? Number.NaN)),
    figure(Math.round(megabytes.at(-1) ?? Number.NaN)),
  ];
}

/** How many got no reply, or another than they came for, by its status. */
function withoutSuccess({ errors, statusCodeStats }: Result): string {
  const others = Object.entries(statusCodeStats).filter(([status]) => !status.startsWith('2'));
  const said = others.map(([status, { count }]) => `${count} of ${status}`);
  return [...(errors > 0 ? [`${errors} without reply`] : []), ...said].join(', ') || '0';
}

/** A hundred requests in the proportions of the day; each connection sends them again and again. */
function aDay(
  shopId: string,
  planned: readonly { readonly jobId: string; readonly dropOffAt: string }[],
  people: readonly string[],
  jobs: number,
): Request[] {
  const shop = `/v1/shops/${shopId}`;
  const headers = { authorization: `Bearer ${benchTokenOf(shopId)}` };
  const days = [...new Set(planned.map(({ dropOffAt }) => dropOffAt.slice(0, 10)))].sort().slice(0, 5);
  const posting = { ...headers, 'content-type': 'application/json' };
  const quotes = quoteRequests(jobs, 1, SEED);
  return Array.from({ length: 100 }, (_, k): Request => {
    if (k === 99) {
      const body = JSON.stringify(quotes[0]);
      return { method: 'POST', path: `${shop}/quotes`, headers: posting, body };
    }
    if (k % 11 === 10) {
      const path = `${shop}/jobs/${planned[k % planned.length]!.jobId}/floor-events`;
      const setupRequest = (request: Request): Request => {
        const clientId = randomUUID();
        const fact = { kind: 'noted', operation: null, text: 'as it was seen' };
        const body = JSON.stringify({ clientId, occurredAt: new Date().toISOString(), fact });
        return { ...request, body, headers: { ...posting, 'idempotency-key': clientId } };
      };
      return { method: 'POST', path, setupRequest };
    }
    const path =
      k % 2 === 0
        ? `${shop}/timeline?day=${days[k % days.length]}`
        : `${shop}/technicians/${people[k % people.length]}/queue`;
    return { method: 'GET', path, headers };
  });
}
