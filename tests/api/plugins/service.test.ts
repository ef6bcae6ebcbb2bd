import request from 'supertest';
import { afterEach, describe, expect, test } from 'vitest';
import { type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
afterEach(() => opened.close());

async function over(options: Parameters<typeof openShop>[0] = {}) {
  opened = await openShop(options);
  return request(opened.app.server);
}

describe('the service', () => {
  test('is live and ready, and says its version', async () => {
    const api = await over();
    expect((await api.get('/health/live').expect(200)).body).toEqual({ status: 'live', version: '0.0.0-test' });
    expect((await api.get('/health/ready').expect(200)).body).toEqual({ status: 'ready', version: '0.0.0-test' });
  });

  test('stays live but is not ready while what it needs does not answer', async () => {
    const ready = async () => {
      throw new Error('worker 3 is gone');
    };
    const api = await over({ api: { ready } });
    await api.get('/health/live').expect(200);
    const reply = await api.get('/health/ready').expect(503);
    expect(reply.body.type).toBe('/problems/not-ready');
    expect(reply.text).not.toContain('worker 3');
  });

  test('counts requests by route pattern, never by identifier', async () => {
    const api = await over();
    await api.get(`/v1/shops/${shop.id}/places/bay-1`).expect(200);
    await api.get(`/v1/shops/${shop.id}/places/none`).expect(404);
    const { text, headers } = await api.get('/metrics').expect(200);
    expect(headers['content-type']).toContain('text/plain');
    const count = (status: number) =>
      text.match(
        new RegExp(
          `panelday_http_request_seconds_count\\{method="GET",route="/v1/shops/:shopId/places/:id",status="${status}"\\} (\\d+)`,
        ),
      )?.[1];
    expect(count(200)).toBe('1');
    expect(count(404)).toBe('1');
    expect(text).not.toContain('bay-1');
    expect(text).toContain('process_cpu_seconds_total');
  });

  test('sends headers that keep a page to itself, and none that insist on TLS over loopback', async () => {
    const api = await over();
    const { headers } = await api.get('/docs/').expect(200);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
    expect(headers['content-security-policy']).not.toContain('upgrade-insecure-requests');
    expect(headers['strict-transport-security']).toBeUndefined();
    expect(headers['x-powered-by']).toBeUndefined();
  });

  test('answers under its own names and under addresses, and under no other when told which', async () => {
    const api = await over({ api: { hosts: ['studio.example'] } });
    for (const host of ['studio.example', 'STUDIO.example:3000', 'localhost:3000', '127.0.0.1:3000', '[::1]:3000']) {
      await api.get('/v1/shops').set('host', host).expect(200);
    }
    const reply = await api.get('/v1/shops').set('host', 'elsewhere.example').expect(421);
    expect(reply.body.type).toBe('/problems/misdirected');
  });

  test('a list that has not changed is answered 304, and whole again when it has', async () => {
    const api = await over();
    const of = `/v1/shops/${shop.id}`;
    const first = await api.get(`${of}/technicians`).expect(200);
    expect(first.headers['cache-control']).toBe('private, no-cache');
    expect(first.headers.etag).toMatch(/^W\/"/);
    const again = await api
      .get(`${of}/technicians`)
      .set('if-none-match', first.headers.etag as string)
      .expect(304);
    expect(again.text).toBe('');
    await api
      .put(`${of}/technicians/ada`)
      .set('if-match', '*')
      .send({ ...first.body.items[0], name: 'Ada Renamed' })
      .expect(200);
    await api
      .get(`${of}/technicians`)
      .set('if-none-match', first.headers.etag as string)
      .expect(200);
  });
});
