import request from 'supertest';
import { expect, test } from 'vitest';
import { openShop, shop } from '../a-shop.ts';

// SQLSTATE 08006, connection failure; SQLite's own words for a disk that is full.
test.each([
  ['a database that does not answer', Object.assign(new Error('terminated'), { code: '08006' }), 'does not answer'],
  ['a full disk', Object.assign(new Error('SQLITE_FULL: full'), { code: 'SQLITE_FULL' }), 'no room left'],
])('%s is 503 with Retry-After, and tells nothing of itself', async (_, error, words) => {
  const opened = await openShop({});
  Object.assign(opened.store.places, { list: () => Promise.reject(error) });
  const reply = await request(opened.app.server).get(`/v1/shops/${shop.id}/places`);
  expect(reply.status).toBe(503);
  expect(reply.headers['retry-after']).toMatch(/^\d+$/);
  expect(reply.body).toMatchObject({ type: '/problems/store-trouble', status: 503 });
  expect(reply.body.detail).toContain(words);
  expect(reply.text).not.toContain(error.message);
  await opened.close();
});
