import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { demoShop } from './demo-shop.ts';
import { tabTo } from './keyboard.ts';
import { closePage, openPage } from './screen.ts';

const where = demoShop('each test');

interface Booked {
  readonly job: { readonly id: string; readonly state: string; readonly customer: { readonly name: string } };
}

describe.skipIf(where === null)('booking at the desk', () => {
  const browser = aBrowser(where);

  const found = async (name: string): Promise<readonly Booked[]> => {
    const reply = await fetch(`${where.base}/v1/shops/demo/jobs?search=${encodeURIComponent(name)}`, {
      headers: { cookie: where.cookie },
    });
    return ((await reply.json()) as { items: Booked[] }).items;
  };

  test('a car is booked from the first key to the promise without a pointer', async () => {
    const page = await openPage(browser(), where, '/desk.html');
    await page.locator('.sheet .stay').first().waitFor();
    await tabTo(page, 'Book a car');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Book a car' }).waitFor();
    await page.keyboard.type('Keyboard Customer (invented)');
    await tabTo(page, 'Phone');
    await page.keyboard.type('000 0001');
    await tabTo(page, 'Registration');
    await page.keyboard.type('KEYS-1');
    await tabTo(page, 'Service');
    await page.keyboard.type('Walk-in');
    await tabTo(page, 'Find times');
    await page.keyboard.press('Enter');
    await page.locator('.choices .told').first().waitFor();
    await page.waitForFunction(() => Reflect.get(globalThis, 'document').activeElement?.textContent === 'Book');
    await page.keyboard.press('Enter');
    await page.getByText('Booked. Pickup promised for').waitFor();
    const [line] = await found('KEYS-1');
    expect(line?.job.state).toBe('booked');
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'What is done, in order' }).waitFor();
    await closePage(page);
  });

  test('a hold is confirmed, and another desk sees it without reading the page again', async () => {
    const [here, there] = await Promise.all([
      openPage(browser(), where, '/desk.html'),
      openPage(browser(), where, '/desk.html'),
    ]);
    await there.locator('.sheet .stay').first().waitFor();
    await here.getByRole('button', { name: 'Book a car' }).click();
    await here.getByLabel('Name', { exact: true }).fill('Holding Customer (invented)');
    await here.getByLabel('Registration').fill('HOLD-1');
    await here.getByLabel('Service').selectOption({ label: 'Walk-in wash' });
    await here.getByRole('button', { name: 'Find times' }).click();
    await here.getByRole('button', { name: 'Hold for 30 min' }).first().click();
    await here.getByText('Held until').first().waitFor();
    await there.locator('.ledge', { hasText: 'HOLD-1' }).waitFor();
    await here.keyboard.press('Escape');
    await here.getByRole('button', { name: 'Confirm the booking' }).click();
    await here.locator('.job .mark', { hasText: 'booked' }).waitFor();
    expect((await found('HOLD-1'))[0]?.job.state).toBe('booked');
    await closePage(here);
    await closePage(there);
  });

  test('of two desks that want one slot at one moment each gets what holds, and no place holds two cars', async () => {
    const pages = await Promise.all([1, 2].map(() => openPage(browser(), where, '/desk.html')));
    for (const [index, page] of pages.entries()) {
      await page.getByRole('button', { name: 'Book a car' }).click();
      await page.getByLabel('Name', { exact: true }).fill(`Racing Customer ${index} (invented)`);
      await page.getByLabel('Registration').fill(`RACE-${index}`);
      await page.getByLabel('Service').selectOption({ label: 'Multi-layer ceramic, two layers and top' });
      await page.getByRole('button', { name: 'Find times' }).click();
      await page.locator('.choices .told').first().waitFor();
    }
    const wanted = await Promise.all(pages.map((page) => page.locator('.choices .told').first().textContent()));
    expect(wanted[0]).toBe(wanted[1]);
    await Promise.all(pages.map((page) => page.getByRole('button', { name: 'Book', exact: true }).first().click()));
    const told = await Promise.all(
      pages.map(async (page) => {
        const won = page.getByText('Booked. Pickup promised for');
        const lost = page.getByText('The slot was taken meanwhile');
        await won.or(lost).waitFor({ timeout: 45_000 });
        return (await won.count()) > 0 ? 'won' : 'lost';
      }),
    );
    expect(told.toSorted()).toEqual(['lost', 'won']);
    expect(await found('RACE-')).toHaveLength(1);
    const loser = pages[told.indexOf('lost')] as Page;
    await loser.getByText('The nearest that holds').waitFor();
    await Promise.all(pages.map(closePage));
  });

  test('what the trade refuses is said beside the field, and what was typed stays', async () => {
    const page = await openPage(browser(), where, '/desk.html');
    await page.getByRole('button', { name: 'Book a car' }).click();
    await page.getByLabel('Name', { exact: true }).fill('Long Vehicle (invented)');
    await page.getByText('More about the car').click();
    await page.getByLabel('Length, mm').fill('0');
    await page.getByRole('button', { name: 'Find times' }).click();
    const field = page.getByLabel('Length, mm');
    await page.getByRole('alert').waitFor();
    expect(await field.getAttribute('aria-invalid')).toBe('true');
    expect(await page.getByLabel('Name', { exact: true }).inputValue()).toBe('Long Vehicle (invented)');
    await closePage(page);
  });
});
