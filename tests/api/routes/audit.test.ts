import supertest from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { bay, key, type Opened, openShop, shop } from '../a-shop.ts';
import { admit, cookieOf } from '../access/people.ts';

let opened: Opened;
beforeEach(async () => {
  opened = await openShop({ signIn: true });
});
afterEach(() => opened.close());

const at = `/v1/shops/${shop.id}`;

describe('the trail of changes', () => {
  test('says who changed what, in which request, from what to what, the newest first', async () => {
    const { id } = await admit(opened, 'owner');
    const cookie = await cookieOf(opened, 'owner-invented');
    const server = supertest(opened.app.server);
    const change = await server
      .put(`${at}/places/${bay.id}`)
      .set({ cookie, 'if-match': '"1"' })
      .send({ ...bay, name: 'Bay one' });
    expect(change.status).toBe(200);
    const refused = await server.put(`${at}/places/${bay.id}`).set({ cookie, 'if-match': '"1"' }).send(bay);
    expect(refused.status).toBe(412);
    const { body } = await server.get(`${at}/audit?kind=place&subject=${bay.id}`).set('cookie', cookie);
    expect(body.items).toHaveLength(2);
    const [changed, made] = body.items;
    expect(changed).toMatchObject({
      who: `account:${id}`,
      requestId: change.get('x-request-id'),
      kind: 'place',
      subject: bay.id,
      at: '2026-03-02T09:00:00+01:00',
    });
    expect([JSON.parse(changed.before).name, JSON.parse(changed.after).name]).toEqual(['Bay 1', 'Bay one']);
    expect(made).toMatchObject({ who: 'server', before: null });
  });

  test('is read a page at a time, each change once', async () => {
    await admit(opened, 'owner');
    const cookie = await cookieOf(opened, 'owner-invented');
    const seen: string[] = [];
    let cursor = '';
    do {
      const reply = await supertest(opened.app.server).get(`${at}/audit?limit=3${cursor}`).set('cookie', cookie);
      seen.push(...reply.body.items.map((each: { id: string }) => each.id));
      cursor = reply.body.nextCursor === null ? '' : `&cursor=${reply.body.nextCursor}`;
    } while (cursor !== '');
    expect(seen.length).toBeGreaterThan(6);
    expect(new Set(seen).size).toBe(seen.length);
    expect(seen).toEqual(seen.toSorted().toReversed());
  });

  test('holds no password, PIN or secret of anybody', async () => {
    await admit(opened, 'owner');
    const cookie = await cookieOf(opened, 'owner-invented');
    const server = supertest(opened.app.server);
    const person = { signInName: 'dee-invented', name: 'Dee Invented', role: 'floor', pin: '2580' };
    await server
      .post(`${at}/accounts`)
      .set({ cookie, ...key() })
      .send(person)
      .expect(201);
    const token = await server
      .post(`${at}/api-tokens`)
      .set({ cookie })
      .send({ name: 'a program', scopes: ['see'] });
    await server.post(`${at}/tablets`).set({ cookie }).send({ name: 'Tablet' }).expect(201);
    const { text, body } = await server.get(`${at}/audit?limit=200`).set('cookie', cookie);
    const kinds = new Set(body.items.map((each: { kind: string }) => each.kind));
    for (const kind of ['account', 'apiToken', 'device']) expect(kinds).toContain(kind);
    expect(text).not.toMatch(/argon2|2580/);
    expect(text).not.toContain(token.body.secret);
  });

  test('keeps a change only when it was made: what is rolled back leaves nothing', async () => {
    const before = await opened.store.audit.list(shop.id, { limit: 200 });
    const failing = opened.store.transaction(shop.id, async (records) => {
      await records.places.put(shop.id, { ...bay, name: 'Bay one' }, 'any');
      throw new Error('the rest of it failed');
    });
    await expect(failing).rejects.toThrow(/the rest of it failed/);
    expect(await opened.store.audit.list(shop.id, { limit: 200 })).toEqual(before);
  });
});
