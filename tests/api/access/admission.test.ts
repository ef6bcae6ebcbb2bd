import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { addApiToken } from '../../../src/shop/access/api-tokens.ts';
import type { Permission } from '../../../src/shop/access/permission.ts';
import { nobody } from '../../../src/shop/access/principal.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { monday9, type Opened, openShop, shop } from '../a-shop.ts';
import { admit, cookieOf, otherShop } from './people.ts';

let opened: Opened;
/** Every operation about a shop, with made-up identifiers in its address. */
let operations: {
  id: string;
  method: 'get' | 'post' | 'put' | 'patch' | 'delete';
  address: string;
  needs: Permission;
}[];
const cookies = new Map<string, string>();

beforeAll(async () => {
  opened = await openShop({ signIn: true });
  await opened.store.shops.put(otherShop, 'new');
  for (const role of ['desk', 'floor', 'owner'] as const) {
    await admit(opened, role);
    await admit(opened, role, otherShop.id);
    cookies.set(role, await cookieOf(opened, `${role}-invented`));
    cookies.set(`${role} elsewhere`, await cookieOf(opened, `${role}-elsewhere`));
  }
  const document = (await opened.app.inject({ url: '/v1/openapi.json' })).json();
  operations = Object.entries(
    document.paths as Record<string, Record<string, { operationId: string; 'x-needs': Permission }>>,
  )
    .filter(([path]) => path.startsWith('/v1/shops/{shopId}'))
    .flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => ({
        id: operation.operationId,
        method: method as 'get',
        address: path.replace('{shopId}', shop.id).replaceAll(/\{\w+\}/g, 'made-up'),
        needs: operation['x-needs'],
      })),
    );
});
afterAll(() => opened.close());

const send = ({ method, address }: { method: 'get' | 'post' | 'put' | 'patch' | 'delete'; address: string }) =>
  supertest(opened.app.server)[method](address);

describe('every operation of a shop', () => {
  test('are more than fifty', () => {
    expect(operations.length).toBeGreaterThan(50);
  });

  test('is shut to nobody in particular', async () => {
    for (const operation of operations) {
      const reply = await send(operation);
      expect(`${operation.id} ${reply.status} ${reply.body.type}`).toBe(`${operation.id} 401 /problems/not-signed-in`);
    }
  });

  test('looks to the people of another shop as if there were no such shop', async () => {
    for (const operation of operations) {
      for (const role of ['desk', 'floor', 'owner']) {
        const reply = await send(operation).set('cookie', cookies.get(`${role} elsewhere`)!);
        const unknown = await send({ ...operation, address: operation.address.replace(shop.id, 'nowhere') }).set(
          'cookie',
          cookies.get(`${role} elsewhere`)!,
        );
        expect(`${operation.id} ${reply.status} ${reply.body.type}`).toBe(`${operation.id} 404 /problems/not-found`);
        expect(reply.body.detail.replace(shop.id, 'nowhere')).toBe(unknown.body.detail);
      }
    }
  });

  test('is shut to a program whose token is of another shop, or lacks the scope', async () => {
    const by = { ...nobody, who: 'account:test', administrator: true };
    const token = async (shopId: typeof shop.id, scopes: Permission[]) =>
      (await addApiToken(opened.deps, { shopId, by, name: 'a program', scopes, expiresAt: null })).secret;
    const elsewhere = await token(otherShop.id, ['see', 'book', 'work', 'plan', 'figures', 'setUp', 'admit']);
    const seeing = await token(shop.id, ['see']);
    for (const operation of operations) {
      const far = await send(operation).set('authorization', `Bearer ${elsewhere}`);
      expect(`${operation.id} ${far.status}`).toBe(`${operation.id} 404`);
      if (operation.needs === 'see') continue;
      const near = await send(operation).set('authorization', `Bearer ${seeing}`);
      expect(`${operation.id} ${near.status}`).toBe(`${operation.id} 403`);
    }
  });

  test('is shut to a person of the floor who would change the book, the shop or who is admitted', async () => {
    for (const operation of operations.filter((each) => !['see', 'work'].includes(each.needs))) {
      const reply = await send(operation).set('cookie', cookies.get('floor')!);
      expect(`${operation.id} ${reply.status} ${reply.body.type}`).toBe(`${operation.id} 403 /problems/not-allowed`);
    }
  });
});

describe('a list of shops', () => {
  test('holds those that whoever asks serves', async () => {
    const here = await send({ method: 'get', address: '/v1/shops' }).set('cookie', cookies.get('desk')!);
    const there = await send({ method: 'get', address: '/v1/shops' }).set('cookie', cookies.get('desk elsewhere')!);
    expect(here.body.items.map((each: { id: string }) => each.id)).toEqual(['invented']);
    expect(there.body.items.map((each: { id: string }) => each.id)).toEqual(['elsewhere']);
  });
});

describe('a token', () => {
  test('opens what its scopes say until it expires, and gives nobody more than they have', async () => {
    const by = { ...nobody, who: 'account:a', shops: new Map([[shop.id, new Set<Permission>(['see', 'book'])]]) };
    const ask = { shopId: shop.id, by, name: 'a program', expiresAt: (monday9 + 3_600_000) as Instant };
    await expect(addApiToken(opened.deps, { ...ask, scopes: ['see', 'figures'] })).rejects.toThrow(
      /do not have: figures/,
    );
    const { secret } = await addApiToken(opened.deps, { ...ask, scopes: ['see'] });
    const jobs = () =>
      send({ method: 'get', address: `/v1/shops/${shop.id}/jobs` }).set('authorization', `Bearer ${secret}`);
    await jobs().expect(200);
    opened.setNow((monday9 + 3_600_001) as Instant);
    await jobs().expect(401);
    opened.setNow(monday9);
  });
});

describe('a calendar program, which sends no header', () => {
  test('brings its token in the address of a feed, and of nothing else', async () => {
    const by = { ...nobody, who: 'account:a', administrator: true };
    const ask = { shopId: shop.id, by, name: 'a calendar', expiresAt: null };
    const { secret } = await addApiToken(opened.deps, { ...ask, scopes: ['see'] });
    const get = (path: string) => send({ method: 'get', address: `/v1/shops/${shop.id}/${path}` });
    const feed = await get(`calendars/places/bay-1.ics?token=${secret}`);
    expect(feed.status).toBe(200);
    expect(feed.text).toMatch(/^BEGIN:VCALENDAR/);
    await get('calendars/places/bay-1.ics?token=made-up').expect(401);
    await get(`jobs?token=${secret}`).expect(401);
  });
});

// Source: OWASP ASVS 4.0.3, 4.2.2; W3C Fetch Metadata Request Headers; RFC 6454 (Origin).
describe('a change that another site has a browser send', () => {
  const book = (headers: Record<string, string>) =>
    send({ method: 'post', address: `/v1/shops/${shop.id}/jobs` })
      .set({ cookie: cookies.get('desk')!, ...headers })
      .send({});

  test('is refused, however the browser says where it comes from', async () => {
    await book({ 'sec-fetch-site': 'cross-site' }).expect(403);
    await book({ 'sec-fetch-site': 'same-site' }).expect(403);
    await book({ origin: 'https://elsewhere.example' }).expect(403);
    await book({ origin: 'null' }).expect(403);
  });

  test('is looked at when it comes from the own pages', async () => {
    await book({ 'sec-fetch-site': 'same-origin' }).expect(400);
    await book({ host: '127.0.0.1:3000', origin: 'http://127.0.0.1:3000' }).expect(400);
  });
});

describe('a route', () => {
  test('that does not say what it takes to be allowed cannot be added', async () => {
    const { default: fastify } = await import('fastify');
    const { admission } = await import('../../../src/api/plugins/admission.ts');
    const app = fastify();
    admission(app, async () => nobody);
    expect(() => app.get('/v1/forgotten', async () => 'told')).toThrow(/does not say in config.needs/);
    app.get('/v1/open', { config: { needs: 'open' } }, async () => 'told');
    await app.close();
  });
});
