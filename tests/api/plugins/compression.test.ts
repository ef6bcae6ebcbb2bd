import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Opened, openShop, shop } from '../a-shop.ts';

const LONG = `/v1/shops/${shop.id}/recipes`;

let opened: Opened;
let plain: string;

beforeAll(async () => {
  opened = await openShop();
  plain = (await opened.app.inject({ url: LONG })).body;
  expect(plain.length).toBeGreaterThan(1_400);
});
afterAll(() => opened.close());

const asked = (coding: string, url = LONG) => opened.app.inject({ url, headers: { 'accept-encoding': coding } });

// RFC 9110, 8.4 and 12.5.3: a coding is chosen by Accept-Encoding, and a weight of nought refuses it.
describe('what is read', () => {
  test('comes in the densest form that the reader takes', async () => {
    const dense = await asked('gzip, deflate, br');
    expect(dense.headers['content-encoding']).toBe('br');
    expect(brotliDecompressSync(dense.rawPayload).toString()).toBe(plain);
    expect(dense.rawPayload.length).toBeLessThan(plain.length / 2);
    const zipped = await asked('gzip;q=1, br;q=0');
    expect(zipped.headers['content-encoding']).toBe('gzip');
    expect(gunzipSync(zipped.rawPayload).toString()).toBe(plain);
  });

  test('comes as it is to whoever takes no coding, and a cache is told that others get another form', async () => {
    for (const coding of ['identity', 'deflate', 'gzip;q=0, br;q=0.0']) {
      const reply = await asked(coding);
      expect(reply.headers['content-encoding'], coding).toBeUndefined();
      expect(reply.body).toBe(plain);
      expect(String(reply.headers.vary)).toMatch(/Cookie.*Accept-Encoding/);
    }
  });

  test('is not sent again to whoever has it, compressed or not', async () => {
    const etag = String((await asked('br')).headers.etag);
    const again = await opened.app.inject({ url: LONG, headers: { 'accept-encoding': 'br', 'if-none-match': etag } });
    expect(again.statusCode).toBe(304);
    expect(again.headers['content-encoding']).toBeUndefined();
  });

  test('comes as it is when it is short', async () => {
    const short = await asked('br', `/v1/shops/${shop.id}/places`);
    expect(short.statusCode).toBe(200);
    expect(short.headers['content-encoding']).toBeUndefined();
  });

  // RFC 9110, 8.8.1: a strong validator changes with every change of the bytes, a content coding included.
  test('comes as it is under a strong tag, which stands for one form alone', async () => {
    const [recipe] = (JSON.parse(plain) as { items: { id: string }[] }).items;
    const reply = await asked('br', `${LONG}/${recipe?.id}`);
    expect(reply.body.length).toBeGreaterThan(1_400);
    expect(reply.headers.etag).toMatch(/^"/);
    expect(reply.headers['content-encoding']).toBeUndefined();
  });
});
