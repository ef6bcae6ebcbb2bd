import { fork } from 'node:child_process';
import { parseArgs } from 'node:util';
import type { ClockKind } from '../figures/clock.ts';
import { machine } from '../figures/machine.ts';
import type { BookKind } from './book-of.ts';
import { firstPlanSlope, plansTable, rulesTable, sizesTable, violationsOf } from './report.ts';
import type { SizeFigures, SizeTask } from './run-size.ts';

const USAGE = `usage: bench:shop [--sizes 20,50,200,500,1000,2000] [--seeds 10 | --seeds 201,202] [--seconds 2,20]
                  [--books recipes,plain] [--copies N | --copies growing] [--clock wall|cpu] [--rules on|off]
Seeds are those that nothing was tuned on: 201, 202, and so on. The shop has 4 bays and 5 people up to 50 jobs, and 12 and 15
beyond; --copies N sets it to N times 4 bays and 5 people, --copies growing to 12 and 15 for every 200 jobs.`;

/** Seeds up to 200 were used for tuning; these are kept apart. */
const FIRST_SEED = 201;
const SMALL_BOOK = 50;
/** Where resources grow, so many jobs for each 4 bays and 5 people. */
const JOBS_A_COPY = 200 / 3;

const { values } = parseArgs({
  options: {
    sizes: { type: 'string', default: '20,50,200,500,1000,2000' },
    seeds: { type: 'string', default: '10' },
    seconds: { type: 'string', default: '2,20' },
    books: { type: 'string', default: 'recipes,plain' },
    copies: { type: 'string' },
    clock: { type: 'string', default: 'wall' },
    rules: { type: 'string', default: 'on' },
    help: { type: 'boolean', default: false },
  },
});
const numbers = (text: string) => text.split(',').map(Number);
const kinds = values.books.split(',') as BookKind[];
const sizes = numbers(values.sizes);
const seconds = numbers(values.seconds).filter((each) => each > 0);
const given = numbers(values.seeds);
const seeds = given.length > 1 ? given : Array.from({ length: given[0]! }, (_, k) => FIRST_SEED + k);
const clock = values.clock as ClockKind;
const growing = values.copies === 'growing';
const sound = [...sizes, ...seconds, ...seeds].every((each) => each >= 0) && ['wall', 'cpu'].includes(clock);
if (values.help || !sound || kinds.some((kind) => kind !== 'recipes' && kind !== 'plain')) {
  console.error(USAGE);
  process.exit(2);
}

console.log(`## Shop books, the engine alone, one thread\n\n${machine()}; seeds ${seeds.join(', ')}; ${clock} time\n`);
for (const kind of kinds) {
  const measured: SizeFigures[] = [];
  for (const jobs of sizes) {
    const copies = copiesFor(jobs);
    measured.push(await run({ kind, jobs, copies, seeds, seconds, clock, rules: values.rules !== 'off' }));
    console.error(`${kind} ${jobs} done`);
  }
  console.log(`### Books of ${kind === 'recipes' ? "the seed's recipes" : 'plain coating jobs'}\n`);
  console.log(
    `${sizesTable(measured)}\n\n${plansTable(measured)}\n\n${rulesTable(measured)}\n\n${firstPlanSlope(measured, growing)}\n`,
  );
  const broken = violationsOf(measured);
  if (broken > 0) {
    console.error(`${broken} violations`);
    process.exitCode = 1;
  }
}
console.log(`At the end: ${machine()}`);

function copiesFor(jobs: number): number {
  if (growing) return Math.max(1, Math.round(jobs / JOBS_A_COPY));
  if (values.copies !== undefined) return Number(values.copies);
  return jobs <= SMALL_BOOK ? 1 : 3;
}

function run(task: SizeTask): Promise<SizeFigures> {
  return new Promise((resolve, reject) => {
    const child = fork(new URL('./run-size.js', import.meta.url));
    child.once('message', (figures) => resolve(figures as SizeFigures));
    child.once('exit', (code) => reject(new Error(`${task.kind} ${task.jobs}: ended with ${code}`)));
    child.send(task);
  });
}
