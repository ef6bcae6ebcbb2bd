import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, faultsInBothLooks, openPage } from './screen.ts';

// Checked against WCAG 2.2 A and AA by axe-core's own rules, https://github.com/dequelabs/axe-core/blob/develop/doc/rule-descriptions.md
const where = demoShop('each file');
const busy = { type: '/problems/busy', title: 'Too much at once', status: 503, detail: 'Try again soon.' };

describe.skipIf(where === null)(
  'every state of the owner’s page is free of what axe-core can find, light and dark',
  () => {
    const browser = aBrowser(where);

    const openOwner = (): Promise<Page> => openPage(browser(), where, '/owner.html', { width: 1024, height: 768 });

    test('months being planned, and planned', async () => {
      const page = await openOwner();
      await page.getByLabel('Months drawn').selectOption('4');
      await page.getByRole('button', { name: 'Plan the months' }).click();
      await page.getByRole('button', { name: 'Stop' }).waitFor();
      expect(await faultsInBothLooks(page)).toEqual([]);
      await page.getByRole('heading', { name: 'With one thing more' }).waitFor({ timeout: 80_000 });
      expect(await faultsInBothLooks(page)).toEqual([]);
      await closePage(page);
    }, 180_000);

    test('figures that cannot be had', async () => {
      const page = await openPage(browser(), where, '/', { width: 1024, height: 768 });
      for (const part of ['revenue', 'estimates', 'weeks']) {
        await page.route(`**/utilisation/${part}?**`, (route) => route.fulfill({ status: 503, json: busy }));
      }
      await page.goto('/owner.html');
      await page.getByRole('alert').nth(2).waitFor();
      expect(await faultsInBothLooks(page)).toEqual([]);
      await closePage(page);
    });
  },
);
