import { spawnSync } from 'node:child_process';
import { parseArgs } from 'node:util';

const { values } = parseArgs({
  options: {
    /** Folder of benchmark instances; without it the instances are passed over. */
    instances: { type: 'string' },
    /** Small sizes and few seeds: some minutes instead of an hour. */
    short: { type: 'boolean', default: false },
  },
});
const short = {
  engine: ['--seconds', '2', '--limit', '5'],
  shop: ['--sizes', '20,200', '--seeds', '3', '--seconds', '2'],
  api: ['--starts', '1', '--quotes', '10', '--reads', '100', '--replans', '3'],
};
const parts: [keyof typeof short, string[]][] = [
  ...(values.instances === undefined
    ? []
    : ([['engine', ['--instances', values.instances]]] satisfies [keyof typeof short, string[]][])),
  ['shop', []],
  ['api', []],
];
for (const [part, args] of parts) {
  const file = new URL(`./${part}/main.js`, import.meta.url).pathname;
  const run = spawnSync(process.execPath, [file, ...args, ...(values.short ? short[part] : [])], { stdio: 'inherit' });
  if (run.status !== 0) process.exitCode = 1;
}
