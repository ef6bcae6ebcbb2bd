import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { DemoBook, inFront, type Operation } from './demo-book.ts';
import { type DemoServer, startDemoServer } from './demo-server.ts';
import { closePage, openBrowser, openPage, type Where } from './screen.ts';

const web = inject('web')!;
/** The wet bay is free for a few minutes: one car has left it, the next stands in the yard. */
const BETWEEN_TWO_WASHES = '2026-03-04T09:18:00+01:00';
const tablet = { width: 1024, height: 768, touch: true };

describe.skipIf(web === null)('a visit in a fresh demo shop, through all three screens', () => {
  let server: DemoServer;
  let where: Where;
  let browser: Browser;
  beforeAll(async () => {
    server = await startDemoServer({ now: Date.parse(BETWEEN_TWO_WASHES), settings: { PLAN_BUDGET_MS: '50' } });
    where = { ...server, chromium: web.chromium };
    browser = await openBrowser(web);
  }, 150_000);
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
  });

  test('a car is booked at the desk, comes, is worked on and inspected on the floor, leaves, and the owner sees it', {
    timeout: 240_000,
  }, async () => {
    const book = new DemoBook(where);
    await nobodyBusy(book);
    const owner = await openPage(browser, where, '/owner.html');
    const before = await revenueOfMaintenance(book);
    const desk = await openPage(browser, where, '/desk.html');
    const jobId = await bookedAndHere(desk, book);

    const floor = await openPage(browser, where, '/', tablet);
    const done: string[] = [];
    for (let step = 0; step < 12 && !done.includes('handover'); step++) {
      const next = await nextWork(book, jobId, done.at(-1) === 'ironTarSpray' ? 'ironTarRinse' : null);
      if (next.operation === 'ironTarSpray') {
        // Nobody waits here for a remover to dwell: it was sprayed four minutes ago, and is rinsed next, whatever a plan would do first.
        await book.tell(jobId, { kind: 'started', operation: next.operation, by: next.people }, 9);
        await book.tell(jobId, { kind: 'finished', operation: next.operation }, 4);
      } else {
        await inFront(floor, next, { when: 'now' });
        await workedOn(floor, next.label, next.kind);
      }
      done.push(next.kind === 'move' ? 'move' : next.operation);
    }
    expect(done.filter((each) => each !== 'move')).toEqual([
      'intake',
      'maintenanceWash',
      'ironTarSpray',
      'ironTarRinse',
      'blowDry',
      'finalInspection',
      'handover',
    ]);
    await expect.poll(() => stateOf(book, jobId)).toBe('done');

    await closePage(floor);
    await owner.reload();
    const estimates = owner.getByRole('region', { name: /^By recipe/ });
    await estimates.getByRole('row', { name: /^Maintenance decontamination/ }).waitFor();
    // It was told for another day, or another hour of this one: what counts is that it came and left now.
    const { job } = await book.read<{ job: { priceMinor: number } }>(`/jobs/${jobId}`);
    const after = await revenueOfMaintenance(book);
    expect(after).toEqual({ cars: before.cars + 1, revenueMinor: before.revenueMinor + job.priceMinor });
    const revenue = owner.getByRole('region', { name: /^Revenue for each bay hour/ });
    const line = revenue.getByRole('row', { name: /^Maintenance decontamination/ });
    await line.waitFor();
    const shown = await line.getByRole('cell').allTextContents();
    expect([shown[0], digitsOf(shown[1]!)]).toEqual([`${after.cars}`, `${after.revenueMinor}`]);
    await Promise.all([desk, owner].map(closePage));
  });
});

/** Books a maintenance at the desk for whoever stands at the door, and lets the car in. */
async function bookedAndHere(desk: Page, book: DemoBook): Promise<string> {
  await desk.locator('.sheet .stay').first().waitFor();
  await desk.getByRole('button', { name: 'Book a car' }).click();
  await desk.getByLabel('Name', { exact: true }).fill('Visiting Customer (invented)');
  await desk.getByLabel('Registration').fill('VISIT-1');
  await desk.getByLabel('Service').selectOption({ label: 'Maintenance decontamination' });
  await desk.getByRole('button', { name: 'Find times' }).click();
  await desk.getByRole('button', { name: 'Book', exact: true }).first().click();
  await desk.getByText('Booked. Pickup promised for').waitFor();
  await desk.keyboard.press('Escape');
  await desk.getByRole('button', { name: 'The car is here' }).click();
  await desk.getByLabel('Where it stands').selectOption({ label: 'Yard 3' });
  await desk.getByRole('button', { name: 'It stands there now' }).click();
  await desk.locator('.job .mark', { hasText: 'in the shop' }).waitFor();
  const { items } = await book.read<{ items: { job: { id: string } }[] }>('/jobs?search=VISIT-1');
  return items[0]!.job.id;
}

/** What is to be done next, or one operation of that, once a plan has followed what was told. */
async function nextWork(book: DemoBook, jobId: string, operation: string | null): Promise<Operation> {
  const { operations } = await book.settled(jobId);
  const next = operations
    .filter((each) => each.jobId === jobId && each.state === 'planned' && each.people.length > 0)
    .filter((each) => operation === null || each.operation === operation)
    .toSorted((a, b) => Date.parse(a.start) - Date.parse(b.start))[0];
  if (next === undefined) throw new Error('nothing is planned for the car');
  return next;
}

/** One operation on the tablet of whoever is planned for it. */
async function workedOn(floor: Page, label: string, kind: string): Promise<void> {
  const task = floor.getByRole('article', { name: label, exact: true });
  if (kind === 'move') {
    const told = floor.waitForResponse((reply) => reply.url().endsWith('/floor-events') && reply.ok());
    await task.getByRole('button', { name: /^It stands in/ }).tap();
    await told;
    return;
  }
  await task.getByRole('button', { name: 'Start', exact: true }).tap();
  await task.getByText('under way').or(floor.getByRole('alert')).waitFor();
  expect(await floor.getByRole('alert').allTextContents()).toEqual([]);
  const end = kind === 'handover' ? 'The car is picked up' : 'Finished';
  const told = floor.waitForResponse((reply) => reply.url().endsWith('/floor-events') && reply.ok());
  await task.getByRole('button', { name: end, exact: true }).tap();
  await told;
}

/** Whoever is at something when the demo begins has finished it, so that anybody may begin. */
async function nobodyBusy(book: DemoBook): Promise<void> {
  const { operations } = await book.settled();
  for (const { jobId, operation, state, people } of operations) {
    if (state === 'underWay' && people.length > 0) await book.tell(jobId, { kind: 'finished', operation });
  }
}

/** What the maintenances that left in the eight weeks on the owner's page brought. */
async function revenueOfMaintenance(book: DemoBook): Promise<{ cars: number; revenueMinor: number }> {
  const { recipes } = await book.read<{
    recipes: { recipeId: string; cars: number; revenueMinor: number }[];
  }>('/utilisation/revenue?monday=2026-03-02&weeks=8');
  const { cars, revenueMinor } = recipes.find(({ recipeId }) => recipeId === 'maintenance') ?? {
    cars: 0,
    revenueMinor: 0,
  };
  return { cars, revenueMinor };
}

/** An amount of money as minor units, whatever signs it is written with. */
const digitsOf = (amount: string): string => amount.replaceAll(/\D/g, '');

async function stateOf(book: DemoBook, jobId: string): Promise<string> {
  return (await book.read<{ job: { state: string } }>(`/jobs/${jobId}`)).job.state;
}
