import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, faultsInBothLooks, openPage } from './screen.ts';

// Checked against WCAG 2.2 A and AA by axe-core's own rules, https://github.com/dequelabs/axe-core/blob/develop/doc/rule-descriptions.md
const where = demoShop('each file');
const refusal = {
  type: '/problems/gate-shut',
  title: 'A gate of the floor is shut',
  status: 422,
  detail: 'The window has closed.',
  errors: [{ field: '/operation', message: 'First: wipe again.', rule: 'window' }],
};

describe.skipIf(where === null)(
  'every state of an operation on the floor is free of what axe-core can find, light and dark',
  () => {
    const browser = aBrowser(where);

    const floor = (act: (page: Page) => Promise<unknown>, me = 'birch') =>
      faultsAfter(
        '/floor.html',
        async (page) => {
          await page.locator('.task').first().waitFor();
          await act(page);
        },
        me,
      );
    const faultsAfter = async (path: string, act: (page: Page) => Promise<unknown>, me = '') => {
      const page = await openPage(browser(), where, path, { width: 1024, height: 768, me });
      await act(page);
      const faults = await faultsInBothLooks(page);
      await closePage(page);
      return faults;
    };

    test('the floor: an operation with all it unfolds to, and panels ticked', async () => {
      const faults = await floor(async (page) => {
        const closed = page.locator('details:not([open]) > summary');
        while ((await closed.count()) > 0) await closed.first().click();
        const panel = page.getByRole('checkbox', { name: 'bonnet' });
        if ((await panel.count()) > 0) await panel.press('Space');
      });
      expect(faults).toEqual([]);
    });

    test('the floor: refused, with the reason', async () => {
      const faults = await floor(async (page) => {
        await page.route('**/floor-events', (route) => route.fulfill({ status: 422, json: refusal }));
        await page.getByRole('button', { name: 'Note' }).first().click();
        await page.getByLabel('What should be known?').fill('no');
        await page.getByRole('button', { name: 'Send' }).click();
        await page.getByRole('alert').waitFor();
      });
      expect(faults).toEqual([]);
    });

    test('the floor: no connection, with something kept on the device', async () => {
      const faults = await floor(async (page) => {
        await page.context().setOffline(true);
        await page.getByRole('button', { name: 'Note' }).first().click();
        await page.getByLabel('What should be known?').fill('kept');
        await page.getByRole('button', { name: 'Send' }).click();
        await page.getByText('One action is kept on this device').waitFor();
      });
      expect(faults).toEqual([]);
    });
  },
);
