import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { DemoBook } from './demo-book.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, faultsInBothLooks, openPage } from './screen.ts';

const where = demoShop('each test');

/** A day after the demo's book, on which its bays are empty. */
const CALM_DAY = '2026-04-08';

interface View {
  readonly job: { readonly id: string };
  readonly operations: readonly { readonly state: string }[];
}

describe.skipIf(where === null)('the desk answers the telephone', () => {
  const browser = aBrowser(where);
  const book = new DemoBook(where);

  test('one place answers the phone: how much, how long, by when, after hours, is it ready, and what rain reaches', async () => {
    const page = await openPage(browser(), where, '/desk.html');
    await page.locator('.sheet .stay').first().waitFor();
    await page.getByRole('button', { name: 'The phone rings' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Service').selectOption({ label: 'Walk-in wash' });
    await dialog.getByLabel('Could bring it').fill(CALM_DAY);
    await dialog.getByLabel('Needs it back by').fill('2026-04-14');
    await dialog.getByRole('button', { name: 'Answer', exact: true }).click();
    const said = dialog.locator('.said');
    await said.waitFor();
    expect(await said.textContent()).toMatch(/€\d+.*About .*Yes: back .* % sure/s);
    await dialog.getByLabel('Find a car or a customer').fill('DEMO-01');
    await dialog.locator('.pickups li', { hasText: 'DEMO-01' }).waitFor();
    // Of all cars by that name those that are here or to come are told, and not those that left.
    await dialog.getByLabel('Find a car or a customer').fill('DEMO');
    await dialog.locator('.pickups li').nth(7).waitFor();
    const states = await dialog.locator('.pickups li .mark').allTextContents();
    expect(states).toHaveLength(8);
    expect(states).not.toContain('picked up');
    await dialog.getByLabel('Outside, °C').fill('6');
    await dialog.getByLabel('Outside humidity').fill('95');
    await dialog.getByRole('button', { name: 'Look', exact: true }).click();
    await dialog.getByText('Water-safe times are').waitFor();
    const rain = await book.read<{ cars: { car: string }[] }>('/what-ifs/rain');
    expect(await dialog.locator('.wet > li').count()).toBe(rain.cars.length);
    expect(await faultsInBothLooks(page)).toEqual([]);
    await dialog.getByRole('button', { name: 'Book this' }).click();
    await page.getByRole('heading', { name: 'Book a car' }).waitFor();
    expect(await page.getByRole('dialog').getByLabel('Can come from').inputValue()).toBe(CALM_DAY);
    await closePage(page);
  });

  test('a fresh repaint is booked only on the painter’s word', async () => {
    const page = await openPage(browser(), where, '/desk.html');
    await page.getByRole('button', { name: 'Book a car' }).click();
    await page.getByLabel('Name', { exact: true }).fill('Painted Customer (invented)');
    await page.getByLabel('Registration').fill('PAINT-1');
    await page.getByLabel('Service').selectOption({ label: 'One-layer ceramic' });
    await page.getByLabel('Can come from').fill(CALM_DAY);
    await page.getByText('More about the car').click();
    await page.getByRole('button', { name: 'Add a panel' }).click();
    await page.getByLabel('Panel', { exact: true }).selectOption('roof');
    await page.getByRole('button', { name: 'Find times' }).click();
    await page.locator('.choices .told').first().waitFor();
    await page.locator('.note.watch').first().waitFor();
    expect(await faultsInBothLooks(page)).toEqual([]);
    await page.getByRole('button', { name: 'Book', exact: true }).first().click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('the painter says it may be coated').check();
    await page.getByRole('button', { name: 'Find times' }).click();
    await page.locator('.choices .told').first().waitFor();
    await page.getByRole('button', { name: 'Book', exact: true }).first().click();
    await page.getByText('Booked. Pickup promised for').waitFor();
    await closePage(page);
  });

  test('a car whose work is not finished leaves only after a second word, which says what is left undone', async () => {
    const { items } = await book.read<{ items: { job: { id: string } }[] }>('/jobs?state=inShop&limit=200');
    const views = await Promise.all(items.map(({ job }) => book.read<View>(`/jobs/${job.id}`)));
    const { job } = views.find(({ operations }) => operations.some(({ state }) => state === 'underWay'))!;
    const page = await openPage(browser(), where, `/desk.html?job=${job.id}`);
    await page.getByRole('button', { name: 'Taken away early…' }).click();
    await page.getByText('they are not done any more').waitFor();
    await page.getByRole('button', { name: 'It stays here' }).click();
    expect(await page.getByRole('button', { name: 'The car is picked up' }).count()).toBe(0);
    expect(await book.factsOf(job.id)).not.toContain('pickedUp');
    await page.getByRole('button', { name: 'Taken away early…' }).click();
    await page.getByRole('button', { name: 'The car is picked up' }).click();
    await page.locator('.job .mark', { hasText: 'picked up' }).waitFor();
    expect(await book.factsOf(job.id)).toContain('pickedUp');
    await closePage(page);
  });
});
