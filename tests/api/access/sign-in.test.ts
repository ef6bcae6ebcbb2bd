import supertest from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { firstAdministrator } from '../../../src/shop/access/first-administrator.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { key, monday9, type Opened, openShop, shop } from '../a-shop.ts';
import { admit, cookieIn, cookieOf, PASSWORD } from './people.ts';

let opened: Opened;
beforeEach(async () => {
  opened = await openShop({ signIn: true });
});
afterEach(() => opened.close());

const ask = () => supertest(opened.app.server);
const signIn = (signInName: string, password: string) =>
  ask().post('/v1/sign-ins/password').send({ signInName, password });
const HOUR = 3_600_000;
const wait = (hours: number) => opened.setNow((monday9 + hours * HOUR) as Instant);

describe('nobody signed in', () => {
  test('is told so, with how to sign in, and gets nothing', async () => {
    const reply = await ask().get(`/v1/shops/${shop.id}/jobs`);
    expect(reply.status).toBe(401);
    expect(reply.get('www-authenticate')).toMatch(/^Bearer/);
    expect(reply.body).toMatchObject({ type: '/problems/not-signed-in', status: 401 });
  });
});

describe('a person with a password', () => {
  test('signs in under any spelling of the name, is told who they are, and signs out', async () => {
    await admit(opened, 'desk');
    const reply = await signIn('  DESK-Invented ', PASSWORD);
    expect(reply.status).toBe(204);
    const cookie = cookieIn(reply);
    const me = await ask().get('/v1/me').set('cookie', cookie);
    expect(me.body).toMatchObject({
      name: 'desk-invented',
      administrator: false,
      shops: [{ shopId: 'invented', permissions: ['see', 'book', 'work', 'plan'] }],
    });
    await ask().delete('/v1/sign-ins/current').set('cookie', cookie).expect(204);
    await ask().get('/v1/me').set('cookie', cookie).expect(401);
  });

  // Source: OWASP ASVS 4.0.3, 3.4.1 to 3.4.5 (Secure, HttpOnly, SameSite, __Host-, Path); Secure is left out on the
  // loopback address alone, where some browsers do not take it.
  test('gets a cookie that no script reads and no other site sends', async () => {
    await admit(opened, 'desk');
    const [cookie] = (await signIn('desk-invented', PASSWORD)).get('set-cookie') ?? [];
    expect(cookie).toMatch(/; Path=\/; .*HttpOnly; SameSite=Strict$/);
    const far = await opened.app.inject({
      method: 'POST',
      url: '/v1/sign-ins/password',
      remoteAddress: '192.0.2.7',
      payload: { signInName: 'desk-invented', password: PASSWORD },
    });
    expect(String(far.headers['set-cookie'])).toMatch(/^__Host-panelday-session=.*; Secure/);
  });

  test('a wrong password and an unknown name are told alike', async () => {
    await admit(opened, 'desk');
    const wrong = await signIn('desk-invented', 'another password altogether');
    const unknown = await signIn('nobody-of-this-name', PASSWORD);
    expect(wrong.status).toBe(401);
    expect(unknown.status).toBe(401);
    expect(wrong.body.detail).toBe(unknown.body.detail);
    expect(wrong.get('set-cookie')).toBeUndefined();
  });

  // Source: OWASP ASVS 4.0.3, 2.2.1: no more than 100 failed attempts an hour on one account.
  test('after five wrong passwords in a row has to wait, even with the right one', async () => {
    await admit(opened, 'desk');
    for (let tries = 0; tries < 5; tries++) await signIn('desk-invented', `wrong password ${tries}`).expect(401);
    await signIn('desk-invented', PASSWORD).expect(429);
    wait(1 / 30);
    await signIn('desk-invented', PASSWORD).expect(204);
    await signIn('desk-invented', 'wrong again and once').expect(401);
    await signIn('desk-invented', PASSWORD).expect(204);
  });

  // Source: OWASP ASVS 4.0.3, 3.3.2: a session ends after 12 hours.
  test('signs in anew after twelve hours', async () => {
    await admit(opened, 'desk');
    const cookie = await cookieOf(opened, 'desk-invented');
    wait(11.9);
    await ask().get('/v1/me').set('cookie', cookie).expect(200);
    wait(12.1);
    await ask().get('/v1/me').set('cookie', cookie).expect(401);
  });

  // Source: OWASP ASVS 4.0.3, 2.1.1, 2.1.6, 3.3.3.
  test('changes it by giving the one before, and every other session ends', async () => {
    await admit(opened, 'desk');
    const [here, there] = [await cookieOf(opened, 'desk-invented'), await cookieOf(opened, 'desk-invented')];
    const change = (current: string, password: string) =>
      ask().put('/v1/me/password').set('cookie', here).send({ current, password });
    await change('not the one before', 'nine blue herons at dawn').expect(401);
    expect((await change(PASSWORD, 'too short')).body.errors).toMatchObject([{ field: '/password' }]);
    await change(PASSWORD, 'aaaaaaaaaaaaaaaa').expect(400);
    await change(PASSWORD, 'my desk-invented key').expect(400);
    await change(PASSWORD, 'nine blue herons at dawn').expect(204);
    await ask().get('/v1/me').set('cookie', here).expect(200);
    await ask().get('/v1/me').set('cookie', there).expect(401);
    await signIn('desk-invented', PASSWORD).expect(401);
  });

  test('is kept as a hash alone', async () => {
    await admit(opened, 'desk');
    const account = await opened.store.accounts.bySignInName('desk-invented');
    // Source: RFC 9106 (argon2id), in PHC string form; cost of the OWASP Password Storage Cheat Sheet.
    expect(account?.passwordHash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(JSON.stringify(account)).not.toContain(PASSWORD);
  });
});

describe('whoever changes an account', () => {
  test('ends its sessions when its role changes or it is shut out', async () => {
    await admit(opened, 'owner');
    const { id } = await admit(opened, 'desk');
    const owner = await cookieOf(opened, 'owner-invented');
    const desk = await cookieOf(opened, 'desk-invented');
    const change = (version: number, body: object) =>
      ask()
        .patch(`/v1/shops/${shop.id}/accounts/${id}`)
        .set('cookie', owner)
        .set('if-match', `"${version}"`)
        .send(body);
    await change(1, { role: 'floor' }).expect(200);
    await ask().get('/v1/me').set('cookie', desk).expect(401);
    await change(1, { disabled: true }).expect(412);
    await change(2, { disabled: true }).expect(200);
    await signIn('desk-invented', PASSWORD).expect(401);
  });
});

describe('a shared tablet', () => {
  async function withTablet() {
    await admit(opened, 'owner');
    const owner = await cookieOf(opened, 'owner-invented');
    const person = await ask()
      .post(`/v1/shops/${shop.id}/accounts`)
      .set('cookie', owner)
      .set(key())
      .send({ signInName: 'bo-invented', name: 'Bo Invented', role: 'owner', technicianId: 'bo', pin: '4711' });
    expect(person.status).toBe(201);
    const made = await ask()
      .post(`/v1/shops/${shop.id}/tablets`)
      .set('cookie', owner)
      .send({ name: 'Tablet at bay 1' });
    expect(made.status).toBe(201);
    return { owner, tablet: cookieIn(made), deviceId: made.body.id as string, accountId: person.body.id as string };
  }

  test('tells who may sign in on it, and signs them in by PIN to see and work, no more', async () => {
    const { tablet, accountId } = await withTablet();
    const ways = await ask().get('/v1/sign-ins/ways').set('cookie', tablet);
    expect(ways.body.tablet).toMatchObject({ shopId: 'invented', people: [{ name: 'Bo Invented', accountId }] });
    const reply = await ask().post('/v1/sign-ins/pin').set('cookie', tablet).send({ accountId, pin: '4711' });
    expect(reply.status).toBe(204);
    const me = await ask().get('/v1/me').set('cookie', cookieIn(reply));
    expect(me.body).toMatchObject({ onTablet: true, shops: [{ permissions: ['see', 'work'], technicianId: 'bo' }] });
  });

  test('is the only place where its PINs count', async () => {
    const { accountId } = await withTablet();
    await ask().post('/v1/sign-ins/pin').send({ accountId, pin: '4711' }).expect(401);
    await ask()
      .post('/v1/sign-ins/pin')
      .set('cookie', 'panelday-tablet=made-up')
      .send({ accountId, pin: '4711' })
      .expect(401);
    expect((await ask().get('/v1/sign-ins/ways')).body.tablet).toBeNull();
  });

  test('looks at no PIN for a while after five wrong ones, whoever they were for', async () => {
    const { tablet, accountId } = await withTablet();
    const pin = (pin: string) => ask().post('/v1/sign-ins/pin').set('cookie', tablet).send({ accountId, pin });
    for (const wrong of ['1111', '2222', '3333', '4444', '5555']) await pin(wrong).expect(401);
    await pin('4711').expect(429);
    wait(1 / 30);
    await pin('4711').expect(204);
  });

  test('that is withdrawn signs out whoever is on it', async () => {
    const { owner, tablet, deviceId, accountId } = await withTablet();
    const on = cookieIn(await ask().post('/v1/sign-ins/pin').set('cookie', tablet).send({ accountId, pin: '4711' }));
    await ask().get('/v1/me').set('cookie', on).expect(200);
    await ask().delete(`/v1/shops/${shop.id}/tablets/${deviceId}`).set('cookie', owner).expect(204);
    await ask().get('/v1/me').set('cookie', on).expect(401);
    await ask().post('/v1/sign-ins/pin').set('cookie', tablet).send({ accountId, pin: '4711' }).expect(401);
  });

  test('takes no PIN that everybody tries first', async () => {
    const { owner } = await withTablet();
    for (const pin of ['0000', '1234', '9876', '12', 'abcd']) {
      const body = { signInName: `pin-${pin}`, name: 'Cy Invented', role: 'floor', pin };
      const reply = await ask().post(`/v1/shops/${shop.id}/accounts`).set('cookie', owner).set(key()).send(body);
      expect(reply.status).toBe(400);
      expect(reply.body.errors).toMatchObject([{ field: '/pin' }]);
    }
  });
});

describe('the first administrator', () => {
  const claim = { signInName: 'ada', name: 'Ada Invented', password: PASSWORD };

  test('is whoever brings what the server printed, once', async () => {
    const first = await firstAdministrator(opened.deps);
    const other = await openShop({ signIn: true, api: { firstAdministrator: first } });
    try {
      // The secret is of this server; the other one's is not taken.
      const server = supertest(other.app.server);
      const wrong = await server.post('/v1/sign-ins/first').send({ ...claim, secret: 'made-up' });
      expect(wrong.status).toBe(401);
      const reply = await server.post('/v1/sign-ins/first').send({ ...claim, secret: first.secret });
      expect(reply.status).toBe(204);
      await server
        .post('/v1/sign-ins/first')
        .send({ ...claim, secret: first.secret })
        .expect(409);
    } finally {
      await other.close();
    }
  });

  test('is not made on a server that has one', async () => {
    const first = await firstAdministrator(opened.deps);
    await first.claim({ ...claim, secret: first.secret! });
    expect((await firstAdministrator(opened.deps)).secret).toBeNull();
    await expect(first.claim({ ...claim, signInName: 'bo-invented', secret: first.secret! })).rejects.toThrow(
      /Somebody was first/,
    );
    const cookie = await cookieOf(opened, 'ada');
    const me = await ask().get('/v1/me').set('cookie', cookie);
    expect(me.body).toMatchObject({ administrator: true, shops: [{ shopId: 'invented' }] });
  });
});

describe('the invented shop', () => {
  test('is open with one click to this machine in demo mode, and to nobody else', async () => {
    const demo = await openShop({ signIn: true, api: { demoShop: shop.id } });
    try {
      const asks = { method: 'POST', url: '/v1/sign-ins/demo', payload: { role: 'desk' } } as const;
      expect((await demo.app.inject({ ...asks, remoteAddress: '127.0.0.1' })).statusCode).toBe(204);
      expect((await demo.app.inject({ ...asks, remoteAddress: '::1' })).statusCode).toBe(204);
      expect((await demo.app.inject({ ...asks, remoteAddress: '192.0.2.7' })).statusCode).toBe(403);
    } finally {
      await demo.close();
    }
    await ask().post('/v1/sign-ins/demo').send({ role: 'desk' }).expect(403);
  });
});
