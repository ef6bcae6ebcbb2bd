import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Instant } from '../../../src/trade/model/time.ts';
import { monday9, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const readings = `/v1/shops/${shop.id}/readings`;
const key = { 'idempotency-key': 'one-key-for-all' };

function reading(airTempC: number) {
  return {
    readings: [
      {
        airZoneId: 'hall',
        at: '2026-03-02T08:30:00+01:00',
        source: 'measured',
        airTempC,
        relativeHumidityPercent: 50,
        panelTempC: null,
        jobId: null,
      },
    ],
  };
}

async function recorded(): Promise<number> {
  const list = await api.get(`${readings}?day=2026-03-02`).expect(200);
  return list.body.items.length;
}

beforeEach(async () => {
  opened = await openShop();
  api = request(opened.app.server);
});
afterEach(() => opened.close());

describe('a POST with an Idempotency-Key', () => {
  test('sent twice has its effect once and is answered the same', async () => {
    const first = await api.post(readings).set(key).send(reading(20)).expect(201);
    expect(first.headers['idempotency-replayed']).toBeUndefined();
    const second = await api.post(readings).set(key).send(reading(20)).expect(201);
    expect(second.headers['idempotency-replayed']).toBe('true');
    expect(second.body).toEqual(first.body);
    expect(second.headers['content-type']).toBe(first.headers['content-type']);
    expect(await recorded()).toBe(1);
  });

  test('is the same request however its JSON is spaced and ordered', async () => {
    await api.post(readings).set(key).send(reading(20)).expect(201);
    const turned = JSON.stringify(
      { readings: [Object.fromEntries(Object.entries(reading(20).readings[0]!).reverse())] },
      null,
      3,
    );
    const second = await api.post(readings).set(key).set('content-type', 'application/json').send(turned).expect(201);
    expect(second.headers['idempotency-replayed']).toBe('true');
  });

  test('with another body is refused', async () => {
    await api.post(readings).set(key).send(reading(20)).expect(201);
    const other = await api.post(readings).set(key).send(reading(21)).expect(422);
    expect(other.body).toMatchObject({
      type: '/problems/key-reused',
      errors: [{ in: 'header', field: '/idempotency-key' }],
    });
    expect(await recorded()).toBe(1);
  });

  test('sent many times at once has its effect once; the others are told to wait or get the same answer', async () => {
    const replies = await Promise.all(Array.from({ length: 6 }, () => api.post(readings).set(key).send(reading(20))));
    const statuses = replies.map((reply) => reply.status);
    expect(statuses.filter((status) => status === 201).length).toBeGreaterThanOrEqual(1);
    for (const reply of replies.filter((each) => each.status !== 201)) {
      expect(reply.body.type).toBe('/problems/still-in-flight');
      expect(reply.headers['retry-after']).toBe('1');
    }
    expect(await recorded()).toBe(1);
  });

  test('is another request on another route and in another shop', async () => {
    await api.post(readings).set(key).send(reading(20)).expect(201);
    await opened.store.shops.put({ ...shop, id: 'second' as typeof shop.id }, 'new');
    const elsewhere = await api.post('/v1/shops/second/readings').set(key).send(reading(20));
    expect(elsewhere.headers['idempotency-replayed']).toBeUndefined();
  });

  test('that failed on our side may be sent again', async () => {
    const append = opened.store.readings.append;
    const failing = Object.assign(opened.store.readings, { append: () => Promise.reject(new Error('disk full')) });
    const transaction = opened.store.transaction;
    Object.assign(opened.store, { transaction: () => Promise.reject(new Error('disk full')) });
    await api.post(readings).set(key).send(reading(20)).expect(500);
    Object.assign(failing, { append });
    Object.assign(opened.store, { transaction });
    const again = await api.post(readings).set(key).send(reading(20)).expect(201);
    expect(again.headers['idempotency-replayed']).toBeUndefined();
    expect(await recorded()).toBe(1);
  });

  test('begun by a process that died is not done a second time, and says that the reply was lost', async () => {
    // What such a process leaves: a claim of the key, and no reply.
    const complete = opened.store.replies.complete;
    const effectDone = new Promise<void>((resolve) => {
      const dies = () => {
        resolve();
        return new Promise(() => {});
      };
      Object.assign(opened.store.replies, { complete: dies });
    });
    const dying = api.post(readings).set(key).send(reading(20));
    dying.end(() => {});
    await effectDone;
    dying.abort();
    Object.assign(opened.store.replies, { complete });
    const soon = await api.post(readings).set(key).send(reading(20)).expect(409);
    expect(soon.body.type).toBe('/problems/still-in-flight');
    opened.setNow((monday9 + 11 * 60_000) as Instant);
    const later = await api.post(readings).set(key).send(reading(20)).expect(409);
    expect(later.body.type).toBe('/problems/reply-lost');
    const other = await api.post(readings).set(key).send(reading(21)).expect(422);
    expect(other.body.type).toBe('/problems/key-reused');
    expect(await recorded()).toBe(1);
  });

  test('that was refused is refused again with the same words', async () => {
    const odd = { readings: [{ ...reading(20).readings[0], airZoneId: 'nowhere' }] };
    const first = await api.post(readings).set(key).send(odd);
    expect(first.status).toBeGreaterThanOrEqual(400);
    expect(first.status).toBeLessThan(500);
    const second = await api.post(readings).set(key).send(odd).expect(first.status);
    expect(second.headers['idempotency-replayed']).toBe('true');
    expect(second.body).toEqual(first.body);
    expect(second.headers['content-type']).toBe('application/problem+json');
  });

  test('is forgotten after seven days', async () => {
    await api.post(readings).set(key).send(reading(20)).expect(201);
    opened.setNow((monday9 + 7 * 24 * 3600_000 + 1000) as Instant);
    await opened.store.replies.purge(opened.deps.clock());
    const late = await api.post(readings).set(key).send(reading(21)).expect(201);
    expect(late.headers['idempotency-replayed']).toBeUndefined();
  });

  test('needs a key of 8 to 128 visible characters', async () => {
    for (const odd of [undefined, 'short', 'x'.repeat(129), 'with a space']) {
      const sent = api.post(readings);
      if (odd !== undefined) sent.set('idempotency-key', odd);
      const reply = await sent.send(reading(20)).expect(400);
      expect(reply.body.errors).toMatchObject([{ in: 'header', field: '/idempotency-key' }]);
    }
  });
});
