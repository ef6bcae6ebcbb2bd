import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { problemKinds } from '../../../src/api/wire/problem.ts';
import { booking, key, type Opened, openShop, shop, zone } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;

beforeAll(async () => {
  opened = await openShop({ api: { bodyLimitBytes: 20_000 } });
  api = request(opened.app.server);
});
afterAll(() => opened.close());

describe('problem details (RFC 9457)', () => {
  test('have type, title, status, detail and instance, and the media type of the standard', async () => {
    const reply = await api.get(`${of}/places/none`).expect(404);
    expect(reply.headers['content-type']).toBe('application/problem+json');
    expect(reply.headers['cache-control']).toBe('no-store');
    expect(reply.body).toMatchObject({
      type: '/problems/not-found',
      title: problemKinds['not-found'].title,
      status: 404,
      instance: `${of}/places/none`,
      requestId: reply.headers['x-request-id'],
    });
  });

  test('the type is an address that says what it means', async () => {
    const list = await api.get('/problems').expect(200);
    expect(list.body.length).toBe(Object.keys(problemKinds).length);
    for (const { type, status } of list.body) {
      const kind = await api.get(type).expect(200);
      expect(kind.body.status).toBe(status);
    }
    await api.get('/problems/unheard-of').expect(404);
  });

  test('an unknown address is 404, a wrong method on a known one 405 with what is allowed', async () => {
    const unknown = await api.get('/v1/nowhere').expect(404);
    expect(unknown.body.type).toBe('/problems/not-found');
    const wrong = await api.patch(`${of}/places/bay-1`).send({}).expect(405);
    expect(wrong.body.type).toBe('/problems/method-not-allowed');
    expect(wrong.headers.allow).toBe('DELETE, GET, HEAD, PUT');
    await api.delete('/v1/shops').expect(405);
  });

  test('JSON that is none is told apart from JSON that is wrong', async () => {
    const malformed = await api
      .put(`${of}/air-zones/hall`)
      .set('if-match', '"1"')
      .set('content-type', 'application/json')
      .send('{"id":')
      .expect(400);
    expect(malformed.body.type).toBe('/problems/malformed-json');
    const wrong = await api.put(`${of}/air-zones/hall`).set('if-match', '"1"').send([]).expect(400);
    expect(wrong.body).toMatchObject({ type: '/problems/invalid-request', errors: [{ in: 'body', field: '' }] });
  });

  test('a body that tries to reach the prototype is refused', async () => {
    const reply = await api
      .put(`${of}/air-zones/hall`)
      .set('if-match', '"1"')
      .set('content-type', 'application/json')
      .send(JSON.stringify(zone).replace('{', '{"__proto__":{"a":1},'))
      .expect(400);
    expect(reply.body.type).toBe('/problems/malformed-json');
  });

  test('a media type nobody reads is 415, a body beyond the limit 413', async () => {
    const xml = await api
      .put(`${of}/air-zones/hall`)
      .set('if-match', '"1"')
      .set('content-type', 'application/xml')
      .send('<zone/>')
      .expect(415);
    expect(xml.body.type).toBe('/problems/unsupported-media-type');
    const long = await api
      .put(`${of}/air-zones/hall`)
      .set('if-match', '"1"')
      .send({ ...zone, name: 'x'.repeat(30_000) })
      .expect(413);
    expect(long.body.type).toBe('/problems/too-large');
  });

  test('CSV is read by the diary and by nothing else', async () => {
    await api.post(`${of}/readings`).set(key()).set('content-type', 'text/csv').send('a,b').expect(415);
    await api.post(`${of}/diary-imports`).set(key()).send({ a: 1 }).expect(415);
  });

  test('fields are named where they are: path, query, header and body', async () => {
    const path = await api.get(`${of}/places/${encodeURIComponent('bay 1')}`).expect(400);
    expect(path.body.errors).toMatchObject([{ in: 'path', field: '/id' }]);
    const query = await api.get(`${of}/jobs?day=tomorrow&state=booked,gone&colour=red`).expect(400);
    expect(query.body.errors.map((error: { in: string; field: string }) => `${error.in}${error.field}`)).toEqual(
      expect.arrayContaining(['query/day', 'query/state/1', 'query/colour']),
    );
    const header = await api.post(`${of}/plan/replans`).send({ reason: 'test' }).expect(400);
    expect(header.body.errors).toMatchObject([{ in: 'header', field: '/idempotency-key' }]);
    const body = await api
      .post(`${of}/quotes`)
      .send({ ...booking, vehicle: { ...booking.vehicle, lengthMm: -1 }, earliestDropOff: '2026-03-02' })
      .expect(400);
    expect(body.body.errors.map((error: { field: string }) => error.field).sort()).toEqual([
      '/earliestDropOff',
      '/vehicle/lengthMm',
    ]);
  });

  test('what nobody foresaw tells nothing of itself', async () => {
    const broken = await openShop({
      planner: {
        plan: async () => {
          throw new TypeError('secret at /srv/panelday/src/planner.ts:12');
        },
        close: async () => {},
      },
    });
    try {
      const reply = await request(broken.app.server).post(`${of}/plan/replans`).set(key()).send({ reason: 'test' });
      expect(reply.status).toBeGreaterThanOrEqual(500);
      expect(reply.text).not.toContain('secret');
      expect(reply.text).not.toContain('planner.ts');
      expect(reply.body.requestId).toBe(reply.headers['x-request-id']);
    } finally {
      await broken.close();
    }
  });
});

describe('request ids', () => {
  test('a well-formed one is taken over and echoed, another is replaced', async () => {
    const own = await api.get('/health/live').set('x-request-id', 'desk-0123456789').expect(200);
    expect(own.headers['x-request-id']).toBe('desk-0123456789');
    for (const odd of ['short', 'with space and more', 'x'.repeat(65)]) {
      const reply = await api.get('/health/live').set('x-request-id', odd).expect(200);
      expect(reply.headers['x-request-id']).toMatch(
        /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/,
      );
    }
  });
});
