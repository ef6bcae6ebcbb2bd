import type { Page } from 'playwright-core';
import { describe, expect, test, vi } from 'vitest';
import { aBrowser } from './browser.ts';
import { DemoBook, inFront } from './demo-book.ts';
import { demoShop } from './demo-shop.ts';
import { tabTo } from './keyboard.ts';
import { closePage, openPage } from './screen.ts';

const where = demoShop('each test');
const tablet = { width: 1024, height: 768, touch: true };

/** The smallest PNG there is: one white pixel. */
const PIXEL = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8/5+hHgAHggJ/PchI7wAAAABJRU5ErkJggg==',
  'base64',
);

describe.skipIf(where === null)('work on the floor', () => {
  const browser = aBrowser(where);
  const book = new DemoBook(where);

  test('a coating does not start on a wipe that has gone stale; the plan has it wiped again first', async () => {
    const coat = await book.planned('coatLayer');
    await book.bring(coat);
    await book.tell(coat.jobId, { kind: 'started', operation: 'panelWipe', by: coat.people }, 130);
    await book.tell(coat.jobId, { kind: 'finished', operation: 'panelWipe' }, 100);
    const planned = (await book.settled()).operations;
    const page = await openPage(browser(), where, '/', tablet);
    await inFront(page, planned.find((each) => each.jobId === coat.jobId && each.operation === coat.operation) ?? coat);
    await page.getByRole('button', { name: 'Start', exact: true }).tap();
    // The demo's recipe gives a wipe 60 minutes, common practice; it ended 100 minutes ago.
    const said = async () => (await page.getByRole('alert').allTextContents()).join(' ');
    await expect.poll(said).toMatch(/the window has closed.*First:.*wipe again/i);
    expect(await book.factsOf(coat.jobId)).not.toContain(`started ${coat.operation}`);
    const { operations } = await book.settled();
    const wipes = operations.filter((each) => each.jobId === coat.jobId && each.kind === 'panelWipe');
    expect(wipes.map(({ state, remedy }) => [state, remedy])).toContainEqual(['planned', true]);
    await closePage(page);
  });

  test('a window that closes is heard and felt, on another operation too, without a connection and over a reload', async () => {
    const page = await openPage(browser(), where, '/floor.html', { ...tablet, me: 'larch', installed: true });
    await page.addInitScript(`
      localStorage.setItem('panelday.alarms', 'on');
      Object.defineProperty(navigator, 'vibrate', { value: (pattern) => {
        const felt = JSON.parse(localStorage.getItem('felt') ?? '[]');
        localStorage.setItem('felt', JSON.stringify([...felt, (pattern.length + 1) / 2]));
      } });`);
    await page.waitForFunction(() => Reflect.get(globalThis, 'navigator').serviceWorker.controller !== null);
    await page.getByRole('heading', { name: 'Larch' }).waitFor();
    // It sounds three minutes before: time enough for a slow machine to show it first.
    const closes = Date.now() + where.offsetMs + 3 * 60_000 + 15_000;
    // Offline first: a reading that is on its way would be kept over what is put here.
    await page.context().setOffline(true);
    await putWindow(page, closes);
    await page.reload();
    await page.getByText('No connection. This list is from').waitFor();
    // Two operations: the wipe is in front, the window is the coating's.
    await page.getByRole('heading', { name: 'Wipe the panels' }).waitFor();
    await page.locator('.windownote', { hasText: /3:[01]\d.*left to start: Lay the coating/s }).waitFor();
    const felt = async () => JSON.parse(await page.evaluate("localStorage.getItem('felt') ?? '[]'"));
    await expect.poll(felt, { timeout: 40_000 }).toEqual([2]);
    await page.reload();
    await page.locator('.windownote', { hasText: /2:[2345]\d/ }).waitFor();
    expect(await felt()).toEqual([2]);
    // It closes while the page is being read anew: it sounds when it is back.
    await putWindow(page, Date.now() + where.offsetMs + 500);
    await page.waitForTimeout(600);
    await page.reload();
    await page.locator('.windownote.gone', { hasText: 'too late since' }).waitFor();
    await expect.poll(felt, { timeout: 20_000 }).toEqual([2, 4]);
    await closePage(page);
  });

  test('a whole operation by keyboard alone: start, panels, note, hold, go on, finish', async () => {
    const intake = await book.intakeAtTheDoor();
    const page = await openPage(browser(), where, '/');
    await inFront(page, intake);
    const task = page.getByRole('article', { name: intake.label });
    await task.getByRole('button', { name: 'Start', exact: true }).waitFor();
    await tabTo(page, 'Start');
    await page.keyboard.press('Enter');
    await task.getByText('under way').or(page.getByRole('alert')).waitFor();
    expect(await page.getByRole('alert').allTextContents()).toEqual([]);
    await tabTo(page, 'Note');
    await page.keyboard.press('Enter');
    await tabTo(page, 'What should be known?');
    await page.keyboard.type('Stone chip on the bonnet');
    await page.keyboard.press('Enter');
    await task.getByLabel('What should be known?').waitFor({ state: 'detached' });
    await tabTo(page, 'Put on hold');
    await page.keyboard.press('Enter');
    await tabTo(page, 'Break');
    await page.keyboard.press('Space');
    await task.getByRole('button', { name: 'Go on' }).waitFor();
    await tabTo(page, 'Go on');
    await page.keyboard.press('Enter');
    await task.getByRole('button', { name: 'Finished' }).waitFor();
    await tabTo(page, 'Finished');
    await page.keyboard.press('Enter');
    await page.getByRole('region', { name: 'Done today' }).getByText(intake.label).waitFor();
    expect(await book.factsOf(intake.jobId)).toEqual([
      'arrived',
      `started ${intake.operation}`,
      'noted Stone chip on the bonnet',
      `interrupted ${intake.operation}`,
      `resumed ${intake.operation}`,
      `finished ${intake.operation}`,
    ]);
    await closePage(page);
  });

  test('interrupted work is one operation, on hold, however the plan tells it', async () => {
    const intake = await book.intakeAtTheDoor();
    const { jobId, operation } = intake;
    await book.tell(jobId, { kind: 'started', operation, by: intake.people }, 5);
    await book.tell(jobId, { kind: 'interrupted', operation, reason: 'Break' });
    // Until the plan has heard of it.
    const told = await vi.waitFor(async () => {
      const { operations } = await book.settled();
      const own = operations.filter((each) => each.jobId === jobId && each.operation.startsWith(operation));
      expect(own.map((each) => each.operation).sort()).toEqual([operation, `${operation}.rest`]);
      return own;
    }, 25_000);
    const rest = told.find((each) => each.operation.endsWith('.rest'))!;
    const page = await openPage(browser(), where, '/floor.html', { ...tablet, me: rest.people[0] ?? '' });
    const line = page.locator('.dayline li', { hasText: await book.registrationOf(jobId) });
    await line.first().waitFor();
    expect(await line.filter({ hasText: intake.label }).count()).toBe(1);
    await line.filter({ hasText: intake.label }).getByRole('button').tap();
    await page.getByRole('article', { name: intake.label }).getByText('on hold').waitFor();
    await page.getByRole('button', { name: 'Go on' }).tap();
    await expect.poll(() => book.factsOf(jobId)).toContain(`resumed ${operation}`);
    await closePage(page);
  });

  test('photographs taken without a connection wait in line, and land once, in the order they were taken', async () => {
    const intake = await book.intakeAtTheDoor();
    const page = await openPage(browser(), where, '/', tablet);
    await inFront(page, intake);
    const photo = page.getByLabel('Photo', { exact: true });
    await photo.waitFor({ state: 'attached' });
    await page.context().setOffline(true);
    await photo.setInputFiles({ name: 'one.png', mimeType: 'image/png', buffer: PIXEL });
    await page.getByText('One action is kept on this device').waitFor();
    await page.getByRole('button', { name: 'Note' }).tap();
    await page.getByLabel('What should be known?').fill('Seen on the photo');
    await page.getByRole('button', { name: 'Send' }).tap();
    await page.getByText('2 actions are kept on this device').waitFor();
    await page.context().setOffline(false);
    await page.getByText('kept on this device').waitFor({ state: 'detached' });
    const { items } = await book.read<{ items: { operation: string; type: string }[] }>(`/jobs/${intake.jobId}/photos`);
    expect(items).toMatchObject([{ operation: intake.operation, type: 'image/jpeg' }]);
    expect(await book.factsOf(intake.jobId)).toContain('noted Seen on the photo');
    await closePage(page);
  });
});

/** Leaves a day of two operations on the device, as it was read last: a wipe under way, and a coating whose window closes. */
async function putWindow(page: Page, closesAt: number): Promise<void> {
  const item = (operation: string, label: string, state: string, windowClosesAt: string | null) => ({
    when: state === 'underWay' ? 'now' : 'next',
    jobId: 'kept-job',
    operation,
    planned: {
      ...{
        jobId: 'kept-job',
        operation,
        kind: operation,
        label,
        placeId: 'bay3',
        people: ['larch'],
        sharePercent: 100,
      },
      ...{ start: new Date(closesAt - 900_000).toISOString(), end: new Date(closesAt + 900_000).toISOString() },
      ...{ pieces: [], state, remedy: false, windowClosesAt },
    },
    ...{ car: 'kept car', look: 'kept car', registration: 'KEPT-1', placeId: 'bay3', placeName: 'Bay 3' },
    ...{ windowClosesAt, minutesToWindow: 3, instructions: [], cautions: [], products: [], conditions: [] },
  });
  const value = {
    ...{
      technicianId: 'larch',
      name: 'Larch',
      date: '2026-03-04',
      asOf: new Date(closesAt).toISOString(),
      planVersion: 1,
    },
    items: [
      item('panelWipe', 'Wipe the panels', 'underWay', null),
      item('coatLayer', 'Lay the coating', 'planned', new Date(closesAt).toISOString()),
    ],
  };
  const kept = JSON.stringify({ at: new Date(closesAt - 200_000).toISOString(), value });
  await page.evaluate(
    ([key, text]) => Reflect.get(globalThis, 'localStorage').setItem(key, text),
    ['panelday.kept /v1/shops/demo/technicians/larch/queue', kept],
  );
}
