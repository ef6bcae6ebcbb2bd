import { resolve } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { linkToShow } from '../../src/shop/customer/customer-link.ts';
import { linkTokens } from '../../src/shop/customer/link-tokens.ts';
import { tell } from '../../src/shop/records/tell.ts';
import type { Job } from '../../src/trade/model/job.ts';
import { Plan } from '../../src/trade/model/plan.ts';
import { Recipe } from '../../src/trade/model/recipe.ts';
import type { Instant } from '../../src/trade/model/time.ts';
import { aJob } from '../api/a-job.ts';
import { coating, monday9, type Opened, openShop, shop, wash } from '../api/a-shop.ts';
import { faultsInBothLooks, openBrowser } from './screen.ts';

const where = inject('web')!;
const HOUR = 3_600_000;
const hours = (count: number) => (monday9 + count * HOUR) as Instant;

/** A wash with a layer of coating after it. */
const coated = Recipe.parse({
  ...wash,
  id: 'coated',
  name: 'Wash and one layer',
  steps: wash.steps.map((step) =>
    step.key === 'contact' ? { ...step, kind: 'coatLayer', label: 'Layer', coatingId: coating.id } : step,
  ),
  aftercare: ['Come back after 7 to 14 days for the check.'],
});

describe.skipIf(where === null)('the customer’s page in a browser', () => {
  let browser: Browser;
  let opened: Opened;
  let base: string;
  let paths: Record<'booked' | 'asked' | 'ready', string>;

  beforeAll(async () => {
    browser = await openBrowser(where);
    const customers = { tokens: linkTokens(''), publicUrl: () => base, mailer: null };
    opened = await openShop({ api: { webRoot: resolve('dist/web'), customers } });
    base = await opened.app.listen({ port: 0, host: '127.0.0.1' });
    const toCustomers = {
      locale: 'en-GB',
      phone: '000 0100',
      address: 'Invented Lane 1, Inventedtown',
      automaticMessages: [],
      reminderHours: 24,
    };
    await opened.store.shops.put({ ...shop, toCustomers }, 'any');
    await opened.store.coatings.put(shop.id, coating, 'new');
    await opened.store.recipes.put(shop.id, coated, 'new');
    const pathOf = async (job: Job) => {
      const { url } = await linkToShow({ ...opened.deps, ...customers }, { shopId: shop.id, jobId: job.id });
      return new URL(url!).pathname;
    };
    paths = {
      booked: await pathOf(await aBookedCarWithOtherTimes(opened)),
      asked: await pathOf(await anAskedCustomer(opened)),
      ready: await pathOf(await aReadyCar(opened)),
    };
  });
  afterAll(async () => {
    await browser.close();
    await opened.close();
  });

  // Checked against WCAG 2.2 A and AA by axe-core's own rules, https://github.com/dequelabs/axe-core/blob/develop/doc/rule-descriptions.md
  test.each(['booked', 'asked', 'ready', 'gone'] as const)(
    'has nothing axe-core can find, light and dark: %s',
    async (state) => {
      const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
      await page.goto(base + (state === 'gone' ? `/visit/${'x'.repeat(32)}` : paths[state]));
      const faults = await faultsInBothLooks(page);
      const folder = process.env.PANELDAY_SCREENS;
      if (folder !== undefined) {
        for (const colorScheme of ['dark', 'light'] as const) {
          await page.emulateMedia({ colorScheme });
          await page.screenshot({ path: `${folder}/${state}-${colorScheme}.png`, fullPage: true });
        }
        await page.emulateMedia({ media: 'print' });
        await page.screenshot({ path: `${folder}/${state}-print.png`, fullPage: true });
      }
      await page.close();
      expect(faults).toEqual([]);
    },
  );

  test('fits a narrow telephone without scrolling sideways', async () => {
    const page = await browser.newPage({ viewport: { width: 320, height: 640 } });
    for (const path of Object.values(paths)) {
      await page.goto(base + path);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(320);
    }
    await page.close();
  });

  test('is read and answered with the keyboard and without script', async () => {
    const context = await browser.newContext({ javaScriptEnabled: false, baseURL: base });
    const page = await context.newPage();
    await page.goto(paths.asked);
    await page.getByRole('button', { name: /^Yes, do more/ }).focus();
    await page.keyboard.press('Enter');
    await page.getByText('You said yes').waitFor();
    expect(new URL(page.url()).pathname).toBe(paths.asked);
    await page.reload();
    expect(await page.getByRole('button').count()).toBe(0);
    await context.close();
  });

  test('asks for nothing from elsewhere and keeps nothing', async () => {
    const context = await browser.newContext({ baseURL: base });
    const page = await context.newPage();
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(paths.ready);
    expect(asked.filter((url) => !url.startsWith(base))).toEqual([]);
    expect(asked.some((url) => url.endsWith('.css'))).toBe(true);
    expect(asked.some((url) => url.endsWith('.js'))).toBe(false);
    expect(await context.cookies()).toEqual([]);
    await context.close();
  });

  test('tells a coated car’s customer what to keep to, by the coating’s data sheet', async () => {
    const page = await browser.newPage();
    await page.goto(base + paths.ready);
    await page.getByText('Ready for you').waitFor();
    // Laid at 09:00; water-safe after 720 minutes at 20 deg C by the sheet, but outside it may have 15 deg C: 720 x sqrt 2 is
    // 1,019 minutes, which end at 01:59.
    await page
      .getByText('Tuesday, 3 March 2026 at 02:00')
      .or(page.getByText('Tuesday 3 March 2026 at 02:00'))
      .waitFor();
    await page.getByText('Come back after 7 to 14 days').waitFor();
    await page.getByText('data sheet').first().waitFor();
    await page.close();
  });
});

async function aBookedCarWithOtherTimes({ store }: Opened): Promise<Job> {
  const job = await aJob(store);
  for (const [pickupAt, when] of [
    [job.promise!.pickupAt, hours(0)],
    [(job.promise!.pickupAt + 24 * HOUR) as Instant, hours(3)],
  ] as const) {
    await store.transaction(shop.id, async (records) => {
      await records.jobs.put(shop.id, { ...job, promise: { ...job.promise!, pickupAt } }, 'any');
      await tell(records, shop.id, when, 'job.changed', job.id, {});
    });
  }
  return job;
}

async function anAskedCustomer({ store }: Opened): Promise<Job> {
  const scope = {
    correctionPasses: 3,
    answer: 'awaited' as const,
    answerBy: hours(2),
    priceMinor: 21_000,
    sparedPanels: ['leftFrontWing' as const],
  };
  return aJob(store, { state: 'inShop', dropOffAt: hours(-1), scope });
}

/** Its coating laid at 09:00 local time, everything but the handover done. */
async function aReadyCar({ store }: Opened): Promise<Job> {
  const job = await aJob(store, { state: 'inShop', recipeId: coated.id, dropOffAt: hours(-2) });
  let told = 0;
  const record = (occurredAt: Instant, fact: object) =>
    store.floorEvents.append(shop.id, {
      jobId: job.id,
      clientId: `ready-${++told}-${job.id}`,
      occurredAt,
      recordedAt: occurredAt,
      fact: fact as never,
    });
  await record(hours(-2), { kind: 'arrived', placeId: 'bay-1' });
  await record(hours(-1), { kind: 'started', operation: 'contact', by: ['ada'] });
  await record(hours(0), { kind: 'finished', operation: 'contact' });
  const operation = (key: string, kind: string, from: number, state: string) => ({
    jobId: job.id,
    operation: key,
    kind,
    label: key,
    start: hours(from),
    end: hours(from + 1),
    pieces: [{ from: hours(from), to: hours(from + 1) }],
    placeId: 'bay-1',
    people: ['ada'],
    sharePercent: 100,
    state,
    remedy: false,
    windowClosesAt: null,
  });
  const plan = Plan.parse({
    version: 1,
    madeAt: hours(0),
    reason: 'test',
    objective: [],
    seed: 1,
    interrupted: false,
    operations: [
      operation('intake', 'intake', -2, 'finished'),
      operation('contact', 'coatLayer', -1, 'finished'),
      operation('handover', 'handover', 1, 'planned'),
    ],
    stays: [{ jobId: job.id, placeId: 'bay-1', from: hours(-2), to: hours(2) }],
    jobs: [{ jobId: job.id, dropOffAt: hours(-2), readyAt: hours(1), pickupAt: hours(2), lateMinutes: 0 }],
  });
  await store.plans.publish({ shopId: shop.id, expectedVersion: 0, plan, occupancy: [], now: hours(0) });
  return job;
}
