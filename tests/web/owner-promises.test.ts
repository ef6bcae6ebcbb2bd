import { resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { FloorEvent, type Job } from '../../src/trade/model/job.ts';
import { aJob } from '../api/a-job.ts';
import { minutesIn } from '../api/a-planned-car.ts';
import { type Opened, openShop, shop, wash, washer } from '../api/a-shop.ts';
import { aBrowser } from './browser.ts';
import { faultsInBothLooks } from './screen.ts';

const where = inject('web')!;

/**
 * Promises of the weeks before, by what was said. Wilson's interval at 99 % (z = 2.576) of 6 kept in 12 reaches up to 80 %, below
 * what was said; of 20 in 20 down to 1 / (1 + z²/20) = 75 %, above it; of 9 in 10 it has 90 % within.
 */
const said = [
  { percent: 70, promises: 20, kept: 20, verdict: 'too careful' },
  { percent: 90, promises: 10, kept: 9, verdict: 'as said' },
  { percent: 95, promises: 12, kept: 6, verdict: 'too sure' },
] as const;

/** Washed by one person from nine o'clock on a day before, promised for one o'clock and ready at noon, or at three. */
async function aCarThatWas(opened: Opened, daysAgo: number, confidencePercent: number, kept: boolean): Promise<void> {
  const day = -daysAgo * 1440;
  const readyAt = kept ? 180 : 360;
  const promise = {
    pickupAt: minutesIn(day + 240),
    givenAt: minutesIn(day - 1440),
    confidencePercent,
    medianReadyAt: minutesIn(day + 180),
  };
  const job: Job = await aJob(opened.store, { state: 'done', recipeId: wash.id, dropOffAt: minutesIn(day), promise });
  const facts = [
    [readyAt - 60, { kind: 'started', operation: 'contact', by: [washer.id] }],
    [readyAt, { kind: 'finished', operation: 'contact' }],
    [readyAt + 60, { kind: 'pickedUp' }],
  ] as const;
  for (const [index, [at, fact]] of facts.entries()) {
    const occurredAt = minutesIn(day + at);
    const clientId = `${job.id}-fact-${index}`;
    const event = { jobId: job.id, clientId, occurredAt, recordedAt: occurredAt, fact };
    await opened.store.floorEvents.append(shop.id, FloorEvent.omit({ sequence: true }).parse(event));
  }
}

describe.skipIf(where === null)('the owner sees how promises were kept', () => {
  const browser = aBrowser(where);
  let opened: Opened;
  let base: string;
  beforeAll(async () => {
    opened = await openShop({ api: { webRoot: resolve('dist/web') } });
    let daysAgo = 0;
    for (const { percent, promises, kept } of said)
      for (let each = 0; each < promises; each++) await aCarThatWas(opened, ++daysAgo, percent, each < kept);
    base = await opened.app.listen({ port: 0, host: '127.0.0.1' });
  });
  afterAll(() => opened.close());

  test('at each probability, with what it is judged by, whose cars run late, and the same as a file', async () => {
    const page = await browser().newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(`${base}/owner.html`);
    const panel = page.getByRole('region', { name: 'Promises kept, against what was said', exact: true });
    const lines = panel.getByRole('table').first().locator('tbody tr');
    await lines.first().waitFor();
    for (const [index, { percent, promises, kept, verdict }] of said.entries()) {
      const cells = await lines.nth(index).locator('th, td').allTextContents();
      expect(cells.slice(0, 3)).toEqual([`${percent} %`, String(promises), String(kept)]);
      expect(cells[3]).toMatch(new RegExp(`^${Math.round((100 * kept) / promises)} %`));
      expect(cells.at(-1)).toBe(verdict);
    }
    expect(await panel.locator('.rangebar').count()).toBe(said.length);
    // 35 of 42 were ready at the middle of the forecast, 7 three hours later: half an hour on average.
    const [recipe] = await panel.getByRole('table').nth(1).locator('tbody tr').all();
    const [name, cars, later, verdict] = (await recipe?.locator('th, td').allTextContents()) ?? [];
    expect([name, cars, verdict]).toEqual([wash.name, '42', 'beyond chance']);
    expect(later).toMatch(/^30 min/);
    const [file] = await Promise.all([page.waitForEvent('download'), panel.getByRole('link', { name: 'CSV' }).click()]);
    expect(file.suggestedFilename()).toMatch(/\.csv$/);
    expect(await faultsInBothLooks(page)).toEqual([]);
    const folder = process.env.PANELDAY_SCREENS;
    if (folder !== undefined)
      for (const colorScheme of ['dark', 'light'] as const) {
        await page.emulateMedia({ colorScheme });
        await panel.screenshot({ path: `${folder}/owner-promises-${colorScheme}.png` });
      }
    await page.close();
  });
});
