/** `npm test`: makes the clone ready, checks types and style, runs every test, and ends with the count. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { prepare, root, say } from './prepare.mjs';

const only = process.argv.slice(2);
try {
  prepare();
} catch (error) {
  say(error.message);
  process.exit(1);
}

const bin = (name, ...path) => [join(root, 'node_modules', name, ...path)];
const checks =
  only.length > 0
    ? []
    : [
        ['types', bin('typescript', 'bin', 'tsc'), ['-p', 'tsconfig.json']],
        ['types of the screens', bin('typescript', 'bin', 'tsc'), ['-p', 'src/web']],
        ['style and import rules', bin('@biomejs', 'biome', 'bin', 'biome'), ['check', '.']],
      ];
let failedChecks = 0;
for (const [name, script, args] of checks) {
  say(`checking ${name}`);
  if (node([...script, ...args]) !== 0) failedChecks += 1;
}

const report = join(root, '.cache', 'tests.json');
mkdirSync(join(root, '.cache'), { recursive: true });
rmSync(report, { force: true });
say('running the tests');
node([
  ...bin('vitest', 'vitest.mjs'),
  'run',
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${report}`,
  ...only,
]);

let passed = checks.length - failedChecks;
let failed = failedChecks;
try {
  const counts = JSON.parse(readFileSync(report, 'utf8'));
  passed += counts.numPassedTests;
  failed += counts.numFailedTests;
  if (!counts.success && counts.numFailedTests === 0) failed += 1;
} catch {
  say('the test runner left no report');
  failed += 1;
}
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exit(failed === 0 ? 0 : 1);

function node(args) {
  return spawnSync(process.execPath, args, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] }).status ?? 1;
}
