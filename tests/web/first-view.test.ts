import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, openContext } from './screen.ts';

const where = demoShop('each file');

const screens = [
  { path: '/desk.html', me: '', usable: '.sheet .stay' },
  { path: '/floor.html', me: 'birch', usable: '.task .acts button' },
  { path: '/owner.html', me: '', usable: '.sayings' },
];

/** Addresses of the API in the order asked, as the browser's own list of a page's resources has them, with who asked first. */
const asked = (page: Page) =>
  page.evaluate(() =>
    (performance.getEntriesByType('resource') as PerformanceResourceTiming[])
      .map(({ name, initiatorType }) => ({ path: name.replace(location.origin, ''), by: initiatorType }))
      .filter(({ path }) => path.startsWith('/v1/')),
  );

describe.skipIf(where === null)('the first view', () => {
  const browser = aBrowser(where);

  test.each(screens)(
    'of $path comes with its figures: asked with the page, once, and all of them shown',
    async (view) => {
      const context = await openContext(browser(), where, { me: view.me });
      const page = await context.newPage();
      const said: string[] = [];
      page.on('console', (message) => said.push(message.text()));
      const link = page.waitForResponse((reply) => reply.url().endsWith(view.path));
      // News that comes once the stream is open has everything read again, which is not of the first view.
      await page.route('**/events', () => {});
      await page.goto(view.path, { waitUntil: 'commit' });
      await page.locator(view.usable).first().waitFor();
      const readings = await asked(page);
      const named = [...((await (await link).headerValue('link')) ?? '').matchAll(/<([^>]+)>/g)].map(
        ([, path]) => path,
      );
      expect(named.length).toBeGreaterThan(1);
      expect(readings.filter(({ by }) => by === 'link').map(({ path }) => path)).toEqual(expect.arrayContaining(named));
      const paths = readings.filter(({ path }) => !path.endsWith('/events')).map(({ path }) => path);
      expect(paths).toEqual([...new Set(paths)]);
      await closePage(page);
    },
  );

  test('the typeface waits until the figures are there, and is at once there the next time', async () => {
    const context = await openContext(browser(), where);
    const page = await context.newPage();
    const order: string[] = [];
    page.on('request', (request) => order.push(new URL(request.url()).pathname));
    await page.goto('/desk.html');
    await page.waitForFunction(() => document.fonts.check('16px "Archivo Variable"') && document.fonts.size > 0);
    const letters = order.findIndex((path) => path.endsWith('.woff2'));
    const last = order.findIndex((path) => path.endsWith('/recipes'));
    expect(last).toBeGreaterThan(-1);
    expect(letters).toBeGreaterThan(last);
    await page.reload();
    await page.locator('.sheet .stay').first().waitFor();
    await page.waitForFunction(() => document.fonts.size > 0);
    await closePage(page);
  });

  test('whoever is not signed in is asked to, and no figure is asked for', async () => {
    const context = await openContext(browser(), where, { signedIn: false });
    const page = await context.newPage();
    const read: string[] = [];
    page.on('request', (request) => read.push(new URL(request.url()).pathname));
    await page.goto('/desk.html');
    await page.waitForURL(/sign-in\.html/);
    expect(read.filter((path) => path.startsWith('/v1/shops/'))).toEqual([]);
    await closePage(page);
  });
});
