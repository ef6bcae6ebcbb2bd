import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { DemoBook } from './demo-book.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, faultsInBothLooks, openPage } from './screen.ts';

// Checked against WCAG 2.2 A and AA by axe-core's own rules, https://github.com/dequelabs/axe-core/blob/develop/doc/rule-descriptions.md
const where = demoShop('each file');

describe.skipIf(where === null)('every page and state is free of what axe-core can find, light and dark', () => {
  const browser = aBrowser(where);

  const seen = async (path: string, act: (page: Page) => Promise<unknown>, me = '') => {
    const page = await openPage(browser(), where, path, { me });
    await act(page);
    const faults = await faultsInBothLooks(page);
    await closePage(page);
    return faults;
  };
  const deskReady = (page: Page) => page.locator('.sheet .stay').first().waitFor();

  test('the entrance', async () => {
    expect(await seen('/', (page) => page.getByRole('heading', { name: 'Panelday' }).waitFor())).toEqual([]);
  });

  test('the desk: a day by place, by person, and a week', async () => {
    const faults = await seen('/desk.html', deskReady);
    faults.push(
      ...(await seen('/desk.html', async (page) => {
        await page.getByRole('button', { name: 'People' }).click();
        await page.locator('.person-track .stay').first().waitFor();
      })),
      ...(await seen('/desk.html', async (page) => {
        await page.getByRole('button', { name: 'Week', exact: true }).click();
        await page.locator('.weeksheet .stay').first().waitFor();
      })),
    );
    expect(faults).toEqual([]);
  });

  test('the desk: a job with all it unfolds to', async () => {
    const jobs = await new DemoBook(where).read<{ items: { job: { id: string } }[] }>('/jobs?state=booked&limit=1');
    const expected = jobs.items[0]?.job.id;
    const faults = await seen('/desk.html', async (page) => {
      await deskReady(page);
      await page.locator('.stay', { hasText: 'DEMO-' }).first().click();
      await page.getByRole('heading', { name: 'What is done, in order' }).waitFor();
      for (const summary of await page.locator('.job summary').all()) await summary.click();
      await page.getByText('longest first').waitFor();
      expect(await page.locator('.job details[open]').count()).toBe(4);
    });
    faults.push(
      ...(await seen(`/desk.html?job=${expected}`, async (page) => {
        await page.getByRole('button', { name: 'Another hour' }).click();
      })),
    );
    expect(faults).toEqual([]);
  });

  test('the desk: booking, its faults, and nobody found', async () => {
    const faults = await seen('/desk.html', async (page) => {
      await page.getByRole('button', { name: 'Book a car' }).click();
      await page.getByText('More about the car').click();
      await page.getByLabel('Name', { exact: true }).fill('Alder (invented)');
      await page.getByLabel('Length, mm').fill('-1');
      await page.getByRole('button', { name: 'Find times' }).click();
      await page.getByRole('alert').waitFor();
    });
    faults.push(
      ...(await seen('/desk.html', async (page) => {
        await page.getByLabel('Find a car or a customer').fill('nobody at all');
        await page.getByText('Nobody by that name').waitFor();
      })),
    );
    expect(faults).toEqual([]);
  });

  test('the desk when the server cannot be reached, and while it is read', async () => {
    const cut = await seen('/desk.html', async (page) => {
      await deskReady(page);
      await page.context().setOffline(true);
      await page.getByRole('button', { name: 'Day after' }).click();
      await page.getByRole('alert').waitFor();
    });
    const waiting = await seen('/', async (page) => {
      await page.route('**/v1/shops', () => {});
      await page.goto('/owner.html');
      await page.getByText('Reading…').waitFor();
    });
    const none = await seen('/', async (page) => {
      await page.route('**/v1/shops', (route) => route.fulfill({ json: { items: [], nextCursor: null } }));
      await page.goto('/desk.html');
      await page.getByText('No shop is kept here yet').waitFor();
    });
    expect([...cut, ...waiting, ...none]).toEqual([]);
  });

  test('the floor: who, a day, a hold, a reading that forbids', async () => {
    const faults = await seen('/floor.html', (page) => page.getByRole('button', { name: 'Ash' }).waitFor());
    faults.push(
      ...(await seen(
        '/floor.html',
        async (page) => {
          await page.locator('.task').first().waitFor();
          await page.getByRole('button', { name: 'Note' }).first().click();
        },
        'birch',
      )),
      ...(await seen(
        '/floor.html',
        async (page) => {
          // Who has nothing to do today follows from a plan.
          await page.route('**/technicians/hornbeam/queue*', async (route) => {
            const reply = (await (await route.fetch()).json()) as object;
            await route.fulfill({ json: { ...reply, items: [] } });
          });
          await page.reload();
          await page.getByText('Nothing is planned for you today').waitFor();
        },
        'hornbeam',
      )),
    );
    expect(faults).toEqual([]);
  });

  test('a fault put on purpose is found', async () => {
    const faults = await seen('/owner.html', async (page) => {
      await page.getByText('The parts add up').first().waitFor();
      await page.evaluate('document.querySelector("#main").append(document.createElement("button"))');
    });
    expect(faults.map((each) => each.split(':')[1]?.trim())).toContain('button-name');
  });

  test('the owner', async () => {
    expect(await seen('/owner.html', (page) => page.getByText('The parts add up').first().waitFor())).toEqual([]);
  });
});
