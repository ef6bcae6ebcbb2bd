import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

/** Prints how nice each thread of its own process is (proc(5), field 19 of stat), the one that serves first. */
const PRINT = `
helpersGiveWay();
const niceOf = (thread) => {
  const stat = readFileSync('/proc/self/task/' + thread + '/stat', 'utf8');
  return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[16]);
};
const others = readdirSync('/proc/self/task').map(Number).filter((thread) => thread !== process.pid);
console.log(JSON.stringify([process.pid, ...others].map(niceOf)));
`;

test.runIf(process.platform === 'linux')('the threads that V8 begins with give way to the one that serves', () => {
  const source = readFileSync(new URL('../src/helpers-give-way.ts', import.meta.url), 'utf8');
  const withoutTypes = source.replace('export function helpersGiveWay(): void', 'function helpersGiveWay()');
  const code = `import { readFileSync } from 'node:fs';\n${withoutTypes}${PRINT}`;
  const printed = execFileSync(process.execPath, ['--input-type=module', '-e', code], { encoding: 'utf8' });
  const [serving, ...others] = JSON.parse(printed) as [number, ...number[]];
  expect(others.length).toBeGreaterThan(2);
  for (const nice of others) expect(nice).toBe(serving + 4);
});
