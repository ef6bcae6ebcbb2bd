import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Opened, openShop, shop } from '../a-shop.ts';
import { admit, cookieOf, otherShop } from '../access/people.ts';

let opened: Opened;
let folder: string;
const cookies = new Map<string, string>();

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'panelday-web-'));
  for (const page of ['desk', 'floor', 'owner', 'sign-in']) {
    await writeFile(join(folder, `${page}.html`), `<!doctype html><title>${page}</title>`);
  }
  opened = await openShop({ signIn: true, api: { webRoot: folder } });
  await opened.store.shops.put(otherShop, 'new');
  for (const role of ['floor', 'owner'] as const) {
    await admit(opened, role);
    cookies.set(role, await cookieOf(opened, `${role}-invented`));
  }
});
afterAll(async () => {
  await opened.close();
  await rm(folder, { recursive: true, force: true });
});

const page = (url: string, who?: string) =>
  opened.app.inject({ url, headers: who === undefined ? {} : { cookie: cookies.get(who) ?? '' } });

/** Addresses named in a Link header, RFC 8288. */
const named = (link: unknown) => [...String(link ?? '').matchAll(/<([^>]+)>; rel=preload/g)].map(([, at]) => at);

describe('a screen comes with word of what it will ask first', () => {
  test('of the shop of whoever is signed in, on its own day', async () => {
    const desk = await page('/desk.html', 'owner');
    expect(desk.statusCode).toBe(200);
    // Monday nine o'clock in the test shop.
    const [shops, timeline, ...rest] = named(desk.headers.link);
    expect(shops).toBe('/v1/shops');
    expect(timeline).toMatch(new RegExp(`^/v1/shops/${shop.id}/timeline\\?day=\\d{4}-\\d\\d-\\d\\d$`));
    for (const address of [shops, timeline, ...rest]) {
      const reply = await opened.app.inject({ url: address ?? '', headers: { cookie: cookies.get('owner') ?? '' } });
      expect(`${address} ${reply.statusCode}`).toBe(`${address} 200`);
    }
  });

  test('that belongs to nobody else, so that no shared cache keeps it', async () => {
    const { headers } = await page('/owner.html', 'owner');
    expect(headers['cache-control']).toContain('private');
    expect(headers.vary).toContain('Cookie');
  });

  test('and without it where nobody is signed in or the screen is not theirs', async () => {
    expect((await page('/desk.html')).headers.link).toBeUndefined();
    expect((await page('/owner.html', 'floor')).headers.link).toBeUndefined();
    expect((await page('/desk.html', 'floor')).headers.link).toBeUndefined();
    expect(named((await page('/floor.html', 'floor')).headers.link)).toContain(
      `/v1/shops/${shop.id}/technicians?limit=100`,
    );
  });

  test('about the shop in the address, unless it is another’s', async () => {
    const own = await page(`/desk.html?shop=${shop.id}`, 'owner');
    expect(named(own.headers.link).length).toBeGreaterThan(1);
    expect((await page(`/desk.html?shop=${otherShop.id}`, 'owner')).headers.link).toBeUndefined();
  });

  test('and pages that ask nothing are sent as they are', async () => {
    expect((await page('/sign-in.html', 'owner')).headers.link).toBeUndefined();
  });

  test('and a store in trouble takes none of the page', async () => {
    const list = opened.store.shops.list;
    Object.assign(opened.store.shops, { list: () => Promise.reject(new Error('no connection')) });
    try {
      const desk = await page('/desk.html', 'owner');
      expect([desk.statusCode, desk.headers.link]).toEqual([200, undefined]);
    } finally {
      Object.assign(opened.store.shops, { list });
    }
  });
});
