import { randomUUID } from 'node:crypto';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DemoBook, type Operation } from './demo-book.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, faultsInBothLooks, openBrowser, openPage } from './screen.ts';

const where = demoShop('each test');

/** A day after the demo's book, on which its bays are empty. */
const CALM_DAY = '2026-04-08';

describe.skipIf(where === null)('the desk asks what if, and answers the telephone', () => {
  let browser: Browser;
  let book: DemoBook;
  beforeAll(async () => {
    browser = await openBrowser(where);
    book = new DemoBook(where);
  });
  afterAll(() => browser.close());

  const post = async <T>(path: string, body: object): Promise<T> => {
    const reply = await fetch(`${where.base}/v1/shops/demo${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'idempotency-key': randomUUID(), cookie: where.cookie },
      body: JSON.stringify(body),
    });
    if (!reply.ok) throw new Error(`${path}: ${await reply.text()}`);
    return (await reply.json()) as T;
  };

  /** A car booked for a wash on the calm day; its wash as the plan has it. */
  const bookedWash = async (registration: string): Promise<Operation> => {
    const request = {
      customer: { name: `${registration} (invented)`, phone: '000', email: '' },
      vehicle: {
        class: 'compact',
        description: 'silver compact (invented)',
        registration,
        colour: 'silver',
        lengthMm: 4250,
        heightMm: 1480,
        paintHardness: 'medium',
        repaints: [],
      },
      condition: { soil: 1, defects: 1, brakeDust: 1, minerals: false, tar: false },
      recipeId: 'walkInWash',
      earliestDropOff: `${CALM_DAY}T09:00:00+02:00`,
    };
    const { choices } = await post<{ choices: { dropOffAt: string; pickupAt: string }[] }>('/quotes', request);
    const { dropOffAt, pickupAt } = choices[0]!;
    const view = await post<{ operations: Operation[] }>('/jobs', { request, dropOffAt, pickupAt });
    return view.operations.find((each) => each.kind === 'maintenanceWash')!;
  };

  const openDay = async (day: string): Promise<Page> => {
    const page = await openPage(browser, where, '/desk.html');
    await page.locator('.sheet .stay').first().waitFor();
    await page.getByLabel('Day', { exact: true }).fill(day);
    await page.getByRole('heading', { level: 1, name: String(Number(day.slice(8))) }).waitFor();
    return page;
  };
  const stayOf = (page: Page, place: string | null, registration: string) =>
    page.locator(`[data-column="${place}"] .stay`, { hasText: registration }).first();

  test('a car dragged into a room without water is refused with what the room lacks, and stays where it was', async () => {
    const wash = await bookedWash('DRAG-1');
    const page = await openDay(wash.start.slice(0, 10));
    const stay = stayOf(page, wash.placeId, 'DRAG-1');
    await stay.scrollIntoViewIfNeeded();
    const box = (await stay.boundingBox())!;
    const target = (await page.locator('[data-column="bay3"]').boundingBox())!;
    await page.mouse.move(box.x + 30, box.y + 10);
    await page.mouse.down();
    await page.mouse.move(target.x + 40, box.y + 14, { steps: 4 });
    await page.locator('.ghost', { hasText: 'DRAG-1' }).waitFor();
    await page.mouse.up();
    await page.getByText('It does not go there').waitFor();
    expect(await page.locator('.reasons').textContent()).toContain('has no floor for wet work');
    expect(await page.getByRole('button', { name: 'Do it' }).count()).toBe(0);
    expect(await faultsInBothLooks(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await stay.waitFor();
    await closePage(page);
  });

  test('one place answers the phone: how much, how long, by when, after hours, is it ready, and what rain reaches', async () => {
    const page = await openPage(browser, where, '/desk.html');
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
    const page = await openPage(browser, where, '/desk.html');
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
});
