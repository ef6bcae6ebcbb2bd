import { readFile } from 'node:fs/promises';
import supertest from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Store } from '../../../src/store/store.ts';
import { aJob } from '../a-job.ts';
import { putPlannedCar } from '../a-planned-car.ts';
import { monday9, type Opened, openShop, shop } from '../a-shop.ts';
import { type Family, readExposition } from './exposition.ts';

let opened: Opened;
let down = false;
beforeEach(async () => {
  opened = await openShop();
});
afterEach(() => opened.close());

async function scraped(): Promise<Map<string, Family>> {
  const { text } = await supertest(opened.app.server).get('/metrics').expect(200);
  return readExposition(text);
}

const value = (families: Map<string, Family>, name: string, labels: object = {}) =>
  families.get(name)?.samples.find((sample) => expect.objectContaining(labels).asymmetricMatch(sample.labels))?.value;

describe('metrics', () => {
  test('are in the text format, to a strict reader of it', async () => {
    await supertest(opened.app.server).get(`/v1/shops/${shop.id}/jobs`).expect(200);
    const families = await scraped();
    expect(families.size).toBeGreaterThan(20);
    for (const { name, help, type, samples } of families.values()) {
      expect(help, name).not.toBe('');
      // Prometheus documentation, "Metric and label naming": counters end in _total, nothing else does.
      if (name.startsWith('panelday_')) expect(name.endsWith('_total'), name).toBe(type === 'counter');
      // Base units: seconds and bytes, never thousandths of them.
      expect(name).not.toMatch(/_(ms|milliseconds|kb|mb|minutes|percent)(_|$)/);
      expect(samples.length > 0 || !name.startsWith('panelday_'), name).toBe(true);
    }
    const requests = families.get('panelday_http_request_seconds');
    expect(requests?.type).toBe('histogram');
    expect(requests?.samples.some(({ labels }) => labels.route === '/v1/shops/:shopId/jobs')).toBe(true);
  });

  test('count what the shops hold, messages that failed or may have failed among it', async () => {
    await putPlannedCar(opened.store);
    const job = await aJob(opened.store, { id: 'job-done' as never, state: 'done' });
    const message = { jobId: job.id, kind: 'ready', queuedAt: monday9, dueAt: monday9 } as const;
    for (const [occasion, state] of [
      ['one', 'failed'],
      ['two', 'unknown'],
      ['three', 'unknown'],
    ] as const) {
      await opened.store.messages.queue(shop.id, { ...message, occasion });
      await opened.store.messages.claim(shop.id, { ...message, occasion }, 'claim', monday9);
      await opened.store.messages.settle(shop.id, { ...message, occasion }, 'claim', {
        state,
        at: monday9,
        fault: 'x',
      });
    }
    await opened.store.deskExceptions.put(
      shop.id,
      {
        id: 'e1' as never,
        kind: 'carMissing',
        jobId: job.id,
        text: 'Invented',
        raisedAt: monday9,
        acknowledgedAt: null,
        acknowledgedBy: null,
      },
      'new',
    );
    const families = await scraped();
    expect(value(families, 'panelday_customer_messages', { state: 'failed' })).toBe(1);
    expect(value(families, 'panelday_customer_messages', { state: 'unknown' })).toBe(2);
    expect(value(families, 'panelday_customer_messages', { state: 'sending' })).toBe(0);
    expect(value(families, 'panelday_jobs', { state: 'done' })).toBe(1);
    expect(value(families, 'panelday_jobs', { state: 'booked' })).toBe(1);
    expect(value(families, 'panelday_jobs', { state: 'inShop' })).toBe(0);
    expect(value(families, 'panelday_desk_exceptions_unacknowledged')).toBe(1);
    expect(value(families, 'panelday_plans_published_total')).toBe(1);
    expect(value(families, 'panelday_shops')).toBe(1);
    expect(value(families, 'panelday_store_up')).toBe(1);
    expect(value(families, 'panelday_build_info', { version: '0.0.0-test' })).toBe(1);
  });

  test('asked for by two at once are the same to both', async () => {
    await putPlannedCar(opened.store);
    const both = await Promise.all([scraped(), scraped(), scraped()]);
    expect(both.map((families) => value(families, 'panelday_plans_published_total'))).toEqual([1, 1, 1]);
  });

  test('say that the store is gone, and then tell nothing of what they do not know', async () => {
    await scraped();
    const { store } = opened;
    const tally = store.tally;
    down = true;
    (store as { tally: Store['tally'] }).tally = async () => {
      if (down) throw new Error('gone');
      return tally();
    };
    const families = await scraped();
    expect(value(families, 'panelday_store_up')).toBe(0);
    for (const name of ['panelday_shops', 'panelday_jobs', 'panelday_plans_published_total']) {
      expect(families.get(name)?.samples, name).toEqual([]);
    }
    down = false;
    expect(value(await scraped(), 'panelday_shops')).toBe(1);
  });

  test('are all in the developers’ table, and the table names no others', async () => {
    const families = await scraped();
    const ours = [...families.keys()].filter((name) => name.startsWith('panelday_'));
    const text = await readFile(new URL('../../../DEVELOPERS.md', import.meta.url), 'utf8');
    const told = [...text.matchAll(/^\| `(panelday_\w+)/gm)].map(([, name]) => name!);
    expect(told.sort()).toEqual(ours.sort());
  });
});

describe('the strict reader', () => {
  test('refuses what is not in the format', () => {
    for (const text of [
      'x 1',
      'x 1\n',
      '# TYPE x counter\n# TYPE x counter\n',
      '# TYPE x gauge\nx{a=b} 1\n',
      '# TYPE x gauge\nx one\n',
      '# TYPE x gauge\nx 1\nx 2\n',
      '# TYPE x histogram\nx_bucket{le="1"} 2\nx_bucket{le="+Inf"} 1\nx_sum 1\nx_count 1\n',
    ]) {
      expect(() => readExposition(text), text).toThrow();
    }
  });
});
