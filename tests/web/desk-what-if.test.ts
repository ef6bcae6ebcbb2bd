import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { DemoBook } from './demo-book.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, faultsInBothLooks, openPage } from './screen.ts';

const where = demoShop('each test');

/** A day after the demo's book, on which its bays are empty. */
const CALM_DAY = '2026-04-08';

describe.skipIf(where === null)('the desk asks what if', () => {
  const browser = aBrowser(where);
  const book = new DemoBook(where);

  const openDay = async (day: string): Promise<Page> => {
    const page = await openPage(browser(), where, '/desk.html');
    await page.locator('.sheet .stay').first().waitFor();
    await page.getByLabel('Day', { exact: true }).fill(day);
    await page.getByRole('heading', { level: 1, name: String(Number(day.slice(8))) }).waitFor();
    return page;
  };
  const stayOf = (page: Page, place: string | null, registration: string) =>
    page.locator(`[data-column="${place}"] .stay`, { hasText: registration }).first();

  test('a car dragged into a room without water is refused with what the room lacks, and stays where it was', async () => {
    const wash = await book.bookWash('DRAG-1', CALM_DAY);
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

  test('a car taken an hour later by keyboard alone is answered, done, kept with a nail, and undone', async () => {
    const wash = await book.bookWash('KEYS-2', CALM_DAY);
    const page = await openDay(wash.start.slice(0, 10));
    await stayOf(page, wash.placeId, 'KEYS-2').focus();
    for (let quarter = 0; quarter < 4; quarter++) await page.keyboard.press('Shift+ArrowDown');
    await page.locator('.ghost', { hasText: 'KEYS-2' }).waitFor();
    await page.keyboard.press('Enter');
    await page.getByText('It fits').waitFor();
    await page.locator('.moved .rail').first().waitFor();
    expect(await faultsInBothLooks(page)).toEqual([]);
    const accept = page.getByLabel('I accept that this breaks a promise');
    if ((await accept.count()) > 0) await accept.check();
    await page.getByRole('button', { name: 'Do it' }).click();
    await page.getByText('It is kept until the work begins').waitFor();
    const later = (await book.settled()).operations.find(
      (each) => each.jobId === wash.jobId && each.operation === wash.operation,
    )!;
    expect(Date.parse(later.start)).toBeGreaterThan(Date.parse(wash.start));
    await page.locator('.sheet .nail').first().waitFor({ state: 'attached' });
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('Everything it had moved is back').waitFor();
    const back = (await book.settled()).operations.find(
      (each) => each.jobId === wash.jobId && each.operation === wash.operation,
    )!;
    expect(back.start).toBe(wash.start);
    await closePage(page);
  });

  test('what the desk decided stands beside the job, and another desk sees it without reading the page again', async () => {
    const wash = await book.bookWash('WISH-1', CALM_DAY);
    const there = await openPage(browser(), where, `/desk.html?job=${wash.jobId}`);
    await there.getByRole('heading', { name: 'What is done, in order' }).waitFor();
    const here = await openPage(browser(), where, `/desk.html?job=${wash.jobId}`);
    await here.getByRole('button', { name: 'What if it went elsewhere' }).click();
    await here.getByLabel('Which work').selectOption(wash.operation);
    await here.getByLabel('When', { exact: true }).selectOption('notBefore');
    await here.getByRole('button', { name: 'Ask', exact: true }).click();
    await here.getByText('It fits').waitFor();
    await here.getByRole('button', { name: 'Do it' }).click();
    await here.getByText('It is kept until the work begins').waitFor();
    await there.getByRole('heading', { name: 'Decided at the desk' }).waitFor();
    expect(await faultsInBothLooks(there)).toEqual([]);
    await closePage(here);
    await closePage(there);
  });

  test('a promise that has come to be at risk says why, and a remedy makes it surer', async () => {
    const wash = await book.bookWash('RISK-1', CALM_DAY);
    const page = await openPage(browser(), where, `/desk.html?job=${wash.jobId}`);
    await page.getByRole('button', { name: 'What if it went elsewhere' }).click();
    await page.getByLabel('Which work').selectOption(wash.operation);
    await page.getByLabel('When', { exact: true }).selectOption('notBefore');
    await page.getByLabel('Day', { exact: true }).last().fill('2026-04-20');
    await page.getByRole('button', { name: 'Ask', exact: true }).click();
    await page.getByText('It fits, and breaks a promise').waitFor();
    const doIt = page.getByRole('button', { name: 'Do it' });
    expect(await doIt.isDisabled()).toBe(true);
    await page.getByLabel('I accept that this breaks a promise').check();
    await doIt.click();
    await page.getByText('It is kept until the work begins').waitFor();
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    await page.getByRole('heading', { name: 'Why it is at risk' }).waitFor();
    await page.locator('.ledge .pressing', { hasText: 'RISK-1' }).waitFor();
    await page.getByRole('button', { name: 'Look for remedies' }).click();
    const remedy = page.locator('.remedies > li').first();
    await remedy.waitFor();
    expect(await faultsInBothLooks(page)).toEqual([]);
    await page.locator('.risk-why').getByLabel('Your name, for the record').fill('Ash (invented)');
    await remedy.getByRole('button', { name: 'Do this' }).click();
    await page
      .getByText('Done. The plan has it.')
      .or(page.locator('.job .mark', { hasText: 'holds' }))
      .waitFor();
    await closePage(page);
  });
});
