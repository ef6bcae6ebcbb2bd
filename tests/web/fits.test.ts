import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, openPage } from './screen.ts';

const where = demoShop('each file');

/** By how many pixels the page, or a part of it, is wider than what is seen of it. */
const hidden = (selector: string) =>
  `(() => { const { scrollWidth, clientWidth } = document.querySelector('${selector}'); return scrollWidth - clientWidth; })()`;

describe.skipIf(where === null)('what is seen', () => {
  const browser = aBrowser(where);

  for (const [path, seen] of [
    ['/people.html', 'Who may sign in'],
    ['/owner.html', 'The parts add up'],
    ['/desk.html', 'Bay 1'],
    ['/floor.html', 'Ash'],
  ] as const) {
    test(`of ${path} fits a narrow telephone without scrolling sideways`, async () => {
      const page = await openPage(browser(), where, path, { width: 390, height: 844 });
      await page.getByText(seen).first().waitFor();
      expect(await page.evaluate(hidden('html'))).toBe(0);
      await closePage(page);
    });
  }

  test('of the desk’s day is every place of the demo shop, on a screen of 1440 by 900', async () => {
    const page = await openPage(browser(), where, '/desk.html', { width: 1440, height: 900 });
    await page.locator('.sheet .column').nth(9).waitFor();
    expect(await page.evaluate(hidden('.sheet'))).toBe(0);
    await closePage(page);
  });

  test('of a registration in the desk’s day is all of it, in the narrow columns of parking places too', async () => {
    const page = await openPage(browser(), where, '/desk.html', { width: 1440, height: 900 });
    const plates = page.locator('.column.parking .plate', { hasText: /^DEMO-/ });
    await plates.first().waitFor();
    // The typeface, which is narrower than what stands in for it, comes after the figures.
    const cut = () =>
      plates.evaluateAll((all) =>
        all.filter((each) => each.scrollWidth > each.clientWidth).map((each) => each.textContent),
      );
    await expect.poll(cut).toEqual([]);
    await closePage(page);
  });
});
