import { parseArgs } from 'node:util';
import { machine } from '../figures/machine.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { median, quantile } from '../figures/quantile.ts';
import { measureDay } from './day-reads.ts';
import { measureFirstPlans } from './first-plans.ts';
import { measureQuality } from './quality.ts';
import { measureQuotes, type QuoteFigures } from './quotes.ts';
import { startServer } from './server-process.ts';

const USAGE = `usage: bench:api [--parts first,quality,day,quotes] [--starts 3] [--seeds 3] [--sizes 20,200]
                 [--quote-sizes 50,500,2000] [--quotes 30] [--reads 300] [--replans 10] [--best SECONDS]
Against the compiled server in dist/, on SQLite in a temporary folder. Books are written by this process through the store.
Quotes are asked of a book of each seed, as many as --quotes of each.
--best looks for the best plan of 20 jobs with five seeds for that many seconds each (60 wanted; left out by default).`;

const { values } = parseArgs({
  options: {
    parts: { type: 'string', default: 'first,quality,day,quotes' },
    starts: { type: 'string', default: '3' },
    seeds: { type: 'string', default: '3' },
    sizes: { type: 'string', default: '20,200' },
    'quote-sizes': { type: 'string', default: '50,500,2000' },
    quotes: { type: 'string', default: '30' },
    reads: { type: 'string', default: '300' },
    replans: { type: 'string', default: '10' },
    best: { type: 'string', default: '0' },
    help: { type: 'boolean', default: false },
  },
});
const numbers = (text: string) => text.split(',').map(Number);
const counts = [values.starts, values.seeds, values.sizes, values['quote-sizes'], values.quotes, values.reads];
if (values.help || counts.flatMap(numbers).some((each) => !(each > 0))) {
  console.error(USAGE);
  process.exit(2);
}
const parts = new Set(values.parts.split(','));
const SEED = 101;
const BUDGET_MS = 2000;
const seeds = Array.from({ length: Number(values.seeds) }, (_, k) => SEED + k);
const ms = (sample: readonly number[], probability: number) => figure(Math.round(quantile(sample, probability)));

console.log(`## The server over HTTP, SQLite\n\n${machine()}\n`);
if (parts.has('first')) await firstPlans();
if (parts.has('quality')) await quality();
if (parts.has('day')) await theDay();
if (parts.has('quotes')) await quotes();
console.log(`At the end: ${machine()}`);

async function firstPlans(): Promise<void> {
  const rows: string[][] = [];
  for (const jobs of numbers(values.sizes)) {
    const each = await measureFirstPlans(jobs, Number(values.starts), seeds);
    rows.push([
      String(jobs),
      ms(each.startMs, 0.5),
      ms(each.coldMs, 0.5),
      ms(each.warmMs, 0.5),
      ms(each.warmMs, 1),
      ms(each.warmProcessorMs, 0.5),
      ms(each.againMs, 0.5),
      ms(each.againMs, 0.95),
    ]);
  }
  const head = [
    'jobs',
    'server start',
    'cold',
    'warm',
    'warm, worst',
    'warm, processor',
    'planned again',
    'planned again, p95',
  ];
  console.log('### From the request for a plan to the checked and stored plan, ms (medians)\n');
  console.log(
    'The first plan is stored and replied; a better one is looked for after it. Cold: the first of a new process, at once; the others of a server at rest.\n',
  );
  console.log(`${markdownTable(head, rows)}\n`);
}

async function quality(): Promise<void> {
  const plans = await measureQuality(20, seeds[0]!, BUDGET_MS, Number(values.best));
  const head = ['plan of 20 jobs', ...plans[0]!.tiers, 'seconds'];
  const rows = plans.map(({ name, values: tiers, seconds }) => [name, ...tiers.map(figure), figure(seconds)]);
  console.log(`### How good a plan is after ${BUDGET_MS / 1000} s\n\n${markdownTable(head, rows)}\n`);
}

async function theDay(): Promise<void> {
  const server = await startServer(BUDGET_MS);
  try {
    const day = await measureDay(server, 200, SEED, Number(values.reads), Number(values.replans));
    const row = (name: string, sample: readonly number[]) => [
      name,
      String(sample.length),
      figure(median(sample)),
      figure(quantile(sample, 0.95)),
      figure(quantile(sample, 0.99)),
      figure(quantile(sample, 1)),
    ];
    const rows = [
      row('GET timeline, nothing else going on', day.quietMs),
      row('GET timeline, floor at work', day.busyMs),
      row('POST floor-events', day.factMs),
      row('POST plan/replans', day.replanMs),
    ];
    console.log(`### A day at ${day.jobs} open jobs, ms\n`);
    console.log(`${markdownTable(['request', 'n', 'p50', 'p95', 'p99', 'worst'], rows)}\n`);
    const { idle, planned, peak } = day.memory;
    console.log(
      `Memory of the server, all threads: ${figure(Math.round(idle))} MB before, ${figure(Math.round(planned))} MB after planning, ${figure(Math.round(peak))} MB at its peak.\n`,
    );
  } finally {
    await server.stop();
  }
}

async function quotes(): Promise<void> {
  const rows: string[][] = [];
  const server = await startServer(BUDGET_MS);
  try {
    for (const jobs of numbers(values['quote-sizes'])) {
      const books: QuoteFigures[] = [];
      for (const seed of seeds) books.push(await measureQuotes(server, jobs, seed, Number(values.quotes)));
      const refusedMs = books.flatMap((each) => each.refusedMs);
      const afterNewsMs = books.flatMap((each) => each.afterNewsMs);
      const moving = books.reduce((sum, each) => sum + each.moving, 0);
      const all = [...books.flatMap((each) => each.ms), ...refusedMs];
      rows.push([
        String(jobs),
        String(all.length),
        ms(all, 0.5),
        ms(all, 0.95),
        ms(all, 1),
        String(refusedMs.length),
        refusedMs.length === 0 ? '' : ms(refusedMs, 0.95),
        String(moving),
        afterNewsMs.length === 0 ? '' : ms(afterNewsMs, 0.5),
      ]);
    }
  } finally {
    await server.stop();
  }
  const head = [
    'open jobs',
    'n',
    'p50',
    'p95',
    'worst',
    'refused',
    'refused, p95',
    'others give way',
    'right after a hold, p50',
  ];
  console.log(`### Quotes, ms\n\n${markdownTable(head, rows)}\n`);
}
