import { cpSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { Provider } from '../../../src/store/provider.ts';
import { monday9 } from '../../api/shop-documents.ts';
import { markdownTable } from '../figures/markdown-table.ts';
import { openDatabases } from '../servers/databases.ts';
import { type Bombarded, bombard, type Fault } from './bombard.ts';
import { servedApp } from './served-app.ts';

const { values } = parseArgs({
  options: {
    /** Over both stores together. */
    requests: { type: 'string', default: '50000' },
    seed: { type: 'string', default: '1' },
    stores: { type: 'string', default: 'sqlite,postgresql' },
    /** Faults of each kind that are shown in full. */
    show: { type: 'string', default: '2' },
  },
});

// The compiled bench looks for migrations where it lies itself.
cpSync('prisma', fileURLToPath(new URL('../../../prisma', import.meta.url)), { recursive: true });

const stores = values.stores.split(',') as Provider[];
// The table is then of what was sent until then.
let interrupted = false;
process.once('SIGINT', () => {
  interrupted = true;
});
const rows: string[][] = [];
const shown = new Map<string, number>();
let bad = 0;
for (const [at, provider] of stores.entries()) {
  const databases = await openDatabases(provider);
  const app = await servedApp(await databases.fresh());
  const result = await bombard({
    ...app,
    now: monday9,
    seed: Number(values.seed) + at,
    requests: Math.ceil(Number(values.requests) / stores.length),
    enough: () => interrupted,
    found: showFault,
    progress: (done) => process.stderr.write(`\r${provider} ${done} `),
  });
  await app.close();
  await databases.close();
  process.stderr.write('\n');
  for (const failure of app.failures.slice(0, 20)) process.stderr.write(failure);
  rows.push(rowOf(provider, result));
  bad += result.faults.length;
}
process.stdout.write(
  `${markdownTable(
    [
      'store',
      'requests',
      'operations',
      'succeeded',
      'of the valid',
      'of the hostile',
      'refused',
      '5xx',
      'hung',
      'faults',
    ],
    rows,
  )}\n`,
);
if (bad > 0) process.exitCode = 1;

function rowOf(provider: string, { requests, byStatus, succeeded, sent, operations, faults }: Bombarded): string[] {
  const many = (of: (status: number) => boolean) =>
    [...byStatus].filter(([status]) => of(status)).reduce((sum, [, count]) => sum + count, 0);
  const percent = (part: number, whole: number) => `${((100 * part) / Math.max(1, whole)).toFixed(1)} %`;
  return [
    provider,
    String(requests),
    String(operations),
    percent(succeeded.valid + succeeded.hostile, requests),
    percent(succeeded.valid, sent.valid),
    percent(succeeded.hostile, sent.hostile),
    String(many((status) => status >= 400 && status < 500)),
    String(many((status) => status >= 500)),
    String(many((status) => status === 0)),
    String(faults.length),
  ];
}

/** Shows the first faults of each kind. */
function showFault({ operation, what, request, reply }: Fault): void {
  const kind = `${operation}: ${what}`;
  const seen = (shown.get(kind) ?? 0) + 1;
  shown.set(kind, seen);
  if (seen <= Number(values.show)) process.stderr.write(`\n${kind}\n    ${request}\n    ${reply}\n`);
}
