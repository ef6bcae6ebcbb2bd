import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { migrate } from '../../../src/store/migration/migrate.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { everyHappening, nothingHappens, type Shares } from './happenings.ts';
import { BEGIN, runWeeks } from './run-weeks.ts';
import { openVirtualShop } from './virtual-shop.ts';

const DAY = 1440 * 60_000;

async function fiveCars(seed: number, shares: Shares) {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-weeks-'));
  const databaseUrl = `file:${join(folder, 'weeks.db')}`;
  await migrate({ databaseUrl });
  const shop = await openVirtualShop(databaseUrl, BEGIN);
  onTestFinished(async () => {
    await shop.deps.store.close();
    await rm(folder, { recursive: true, force: true });
  });
  const until = (BEGIN + 30 * DAY) as Instant;
  const run = await runWeeks(shop, { seed, cars: 5, dayDeviation: 0.05, scopeGrows: 0.2, shares, until });
  const jobs = (await shop.deps.store.jobs.list(shop.shopId)).items.map(({ value }) => value);
  return { ...run, shop, jobs };
}

test('a shop is run from its first call to its last car: every car that is sold is worked on and handed over, and no plan fails', async () => {
  const { shop, jobs, floor, calls } = await fiveCars(5, nothingHappens);
  expect(calls.sold).toBe(5);
  expect(shop.planned.failed).toEqual([]);
  expect(shop.complaints).toEqual([]);
  expect(jobs.map(({ state }) => state)).toEqual(jobs.map(() => 'done'));
  const ready = jobs.map(({ id, promise }) => floor.tally.readyAt.get(id)! <= promise!.pickupAt);
  // Promised at 85 % and more: of five cars more than one late one would be a surprise (one in six; the binomial's).
  expect(ready.filter((isKept) => !isKept).length).toBeLessThanOrEqual(1);
}, 300_000);

/** So often that most of it happens to five cars. */
const OFTEN: Shares = {
  noShow: 0.2,
  cancelled: 0.2,
  changed: 0.4,
  early: 0.3,
  late: 0.3,
  walkIn: 0.6,
  sick: 0.1,
  bayClosed: 0.3,
  damp: 0.3,
  forgotten: 0.1,
  otherWork: 0.1,
};

test('whatever else happens in it, no plan fails, the floor never stands still, and every car leaves', async () => {
  const { shop, jobs, happened, watch } = await fiveCars(3, OFTEN);
  expect(everyHappening.filter((kind) => happened.times.has(kind)).length).toBeGreaterThanOrEqual(8);
  expect(shop.planned.failed).toEqual([]);
  expect(shop.complaints).toEqual([]);
  expect(watch.stalls).toEqual([]);
  expect(jobs.filter(({ state }) => !['done', 'cancelled', 'noShow', 'lapsed'].includes(state))).toEqual([]);
}, 300_000);
