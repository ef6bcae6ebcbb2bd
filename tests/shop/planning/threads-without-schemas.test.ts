import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { expect, it } from 'vitest';

const IMPORT = /^(?:import|export)\s(?!type\s)([^'"]*?)from\s+'([^']+)'/gm;

/** What a file needs when it runs, and what that needs, by module. */
function neededBy(entry: string): ReadonlySet<string> {
  const needed = new Set<string>();
  const open = [resolve(entry)];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (needed.has(file)) continue;
    needed.add(file);
    if (!file.endsWith('.ts')) continue;
    for (const [, names = '', from = ''] of readFileSync(file, 'utf8').matchAll(IMPORT)) {
      const parts = names.replace(/[{}]/g, '').split(',');
      if (parts.every((part) => part.trim() === '' || part.trim().startsWith('type '))) continue;
      open.push(from.startsWith('.') ? resolve(dirname(file), from) : from);
    }
  }
  return needed;
}

// Each thread has a heap of its own: a megabyte of schemas that are never asked is held as often as there are threads.
it.each([
  'src/shop/planning/draft-worker.ts',
  'src/shop/planning/plan-worker.ts',
  'src/shop/booking/desk-worker.ts',
  'src/shop/promises/outlook-worker.ts',
])('%s plans without the schemas that requests are judged by', (entry) => {
  const needed = [...neededBy(entry)];
  expect(needed).toContain(resolve('src/engine/calendar/never.ts'));
  expect(needed.filter((file) => file.includes('zod'))).toEqual([]);
});
