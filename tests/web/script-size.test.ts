import { readdir, readFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { expect, inject, test } from 'vitest';

const where = inject('web');
const web = 'dist/web';
const MOST_BYTES = 200_000;

/** Every script a page may load: those it names, and whatever those import, now or later. */
async function scriptsOf(page: string): Promise<Set<string>> {
  const html = await readFile(`${web}/${page}`, 'utf8');
  const found = new Set(html.match(/assets\/[\w.-]+\.js/g) ?? []);
  for (const script of found) {
    const code = await readFile(`${web}/${script}`, 'utf8');
    for (const [, name] of code.matchAll(/["'`]\.\/([\w.-]+\.js)["'`]/g)) found.add(`assets/${name}`);
  }
  return found;
}

test.skipIf(where === null)('no page has more than 200 KB of script, compressed, whatever it loads later', async () => {
  const pages = (await readdir(web)).filter((name) => name.endsWith('.html'));
  expect(pages).toEqual(expect.arrayContaining(['index.html', 'desk.html', 'floor.html', 'owner.html']));
  for (const page of pages) {
    const scripts = await scriptsOf(page);
    const code = await Promise.all([...scripts].map((script) => readFile(`${web}/${script}`)));
    const bytes = code.reduce((sum, each) => sum + gzipSync(each).length, 0);
    expect(bytes, page).toBeLessThan(MOST_BYTES);
  }
});

test.skipIf(where === null)('the owner’s charts are among what is counted', async () => {
  const code = await Promise.all(
    [...(await scriptsOf('owner.html'))].map((each) => readFile(`${web}/${each}`, 'utf8')),
  );
  expect(code.some((each) => each.includes('Chart'))).toBe(true);
  expect(code.reduce((sum, each) => sum + gzipSync(each).length, 0)).toBeGreaterThan(50_000);
});
