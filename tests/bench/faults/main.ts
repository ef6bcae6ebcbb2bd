import { parseArgs } from 'node:util';
import type { Provider } from '../../../src/store/provider.ts';
import { seededRandom } from '../../engine/random/seeded-random.ts';
import { machine } from '../figures/machine.ts';
import { markdownTable } from '../figures/markdown-table.ts';
import { openDatabases } from '../servers/databases.ts';
import { killAtWork } from './killed-at-work.ts';
import { killMigrating } from './killed-migrating.ts';
import { allTroubles } from './troubles.ts';

const USAGE = `usage: bench:faults [--kills 200] [--stores sqlite,postgresql] [--seed 1] [--parts work,migrating,troubles]
Kills the server of dist/ with SIGKILL, so many times a store: three in four while it books, replans and records, the others while it migrates;
starts it again and compares what is there with what was acknowledged. Then full disks, read-only files, lost, silent and slow databases.`;

const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '200' },
    stores: { type: 'string', default: 'sqlite,postgresql' },
    seed: { type: 'string', default: '1' },
    parts: { type: 'string', default: 'work,migrating,troubles' },
    help: { type: 'boolean', default: false },
  },
});
if (values.help || !(Number(values.kills) > 0)) {
  console.error(USAGE);
  process.exit(2);
}
const parts = new Set(values.parts.split(','));
const faults: string[] = [];

console.log(`## Faults\n\n${machine()}\n`);
const rows: string[][] = [];
for (const provider of values.stores.split(',') as Provider[]) {
  if (!parts.has('work') && !parts.has('migrating')) continue;
  const databases = await openDatabases(provider);
  const random = seededRandom(Number(values.seed));
  const migrating = Math.ceil(Number(values.kills) / 4);
  if (parts.has('work')) {
    const work = await killAtWork(databases, Number(values.kills) - migrating, random);
    const told = `${work.acknowledged} acknowledged, ${work.unanswered} unanswered`;
    rows.push([`${provider}, at work`, String(work.kills), told, String(work.faults.length)]);
    faults.push(...work.faults);
  }
  if (parts.has('migrating')) {
    const killed = await killMigrating(provider, databases, migrating, random);
    const told = `${killed.between} before the last migration`;
    rows.push([`${provider}, migrating`, String(killed.kills), told, String(killed.faults.length)]);
    faults.push(...killed.faults);
  }
  await databases.close();
}
if (rows.length > 0) console.log(`${markdownTable(['killed', 'times', 'met', 'lost or half'], rows)}\n`);
if (parts.has('troubles')) {
  const troubles = await allTroubles();
  const said = ({ status, type, ms }: { status: number | null; type: string; ms: number }) =>
    `${status ?? 'nothing'}${type === '' ? '' : ` ${type}`} in ${Math.round(ms)} ms`;
  const table = troubles.map(({ name, meanwhile, recoveredMs }) => [
    name,
    said(meanwhile.read),
    said(meanwhile.write),
    said(meanwhile.live),
    `${Math.round(recoveredMs)} ms`,
  ]);
  const head = ['trouble', 'a reading', 'a writing', 'health/live', 'writes again after'];
  console.log(`${markdownTable(head, table)}\n`);
  for (const trouble of troubles) faults.push(...trouble.faults.map((each) => `${trouble.name}: ${each}`));
}
console.log(`Faults found: ${faults.length}`);
for (const fault of faults.slice(0, 40)) console.log(`- ${fault}`);
console.log(`\nAt the end: ${machine()}`);
if (faults.length > 0) process.exitCode = 1;
