import supertest from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Customer, Job } from '../../../src/trade/model/job.ts';
import { aJob } from '../a-job.ts';
import { booking, key, type Opened, openShop, shop } from '../a-shop.ts';
import { admit, cookieOf } from '../access/people.ts';

const at = `/v1/shops/${shop.id}`;
let opened: Opened;
let api: ReturnType<typeof supertest>;
beforeEach(async () => {
  opened = await openShop();
  api = supertest(opened.app.server);
});
afterEach(() => opened.close());

const done = (customer: Customer, registration: string, more: Partial<Job> = {}) =>
  aJob(opened.store, {
    state: 'done',
    customer,
    vehicle: { ...booking.vehicle, registration } as Job['vehicle'],
    ...more,
  });
const erase = (jobId: string, body: object = {}) =>
  api.post(`${at}/jobs/${jobId}/customer-data/erasure`).set(key()).send(body);
const nameOf = async (jobId: string) => (await api.get(`${at}/jobs/${jobId}`)).body.job.customer.name;
const anna = (phone: string, email: string) => ({ name: 'Anna Invented', phone, email });

describe('a customer’s data', () => {
  test('is that of all bookings which share a mark, one after the other', async () => {
    const first = await done(anna('+00 555 0100', ''), 'AA 1');
    const second = await done(anna('+00 555 0100', 'anna@example.invalid'), 'AA 2');
    const third = await done({ name: 'A. Invented', phone: '', email: 'anna@example.invalid' }, '');
    await done(anna('+00 555 0199', ''), 'BB 1');
    const { body } = await api.get(`${at}/jobs/${first.id}/customer-data`).expect(200);
    const ids = body.bookings.map(({ job }: { job: Job }) => job.id);
    expect(ids.sort()).toEqual([first.id, second.id, third.id].sort());
    const { body: noted } = await api.get(`${at}/audit?kind=export`);
    expect(noted.items).toMatchObject([{ subject: first.id, who: 'account:test' }]);
  });

  test('of somebody else with the same name stays', async () => {
    const hers = await done(anna('+00 555 0100', ''), 'AA 1');
    const others = await done(anna('+00 555 0199', ''), 'BB 1');
    await erase(hers.id).expect(200);
    expect(await nameOf(hers.id)).toBe('(erased)');
    expect(await nameOf(others.id)).toBe('Anna Invented');
    const { body } = await api.get(`${at}/audit?kind=job&subject=${others.id}`);
    expect(JSON.stringify(body.items)).toContain('Anna Invented');
  });

  test('can be erased from some bookings alone, where a family shares a telephone', async () => {
    const hers = await done(anna('+00 555 0100', ''), 'AA 1');
    const sons = await done({ name: 'Sonny Invented', phone: '+00 555 0100', email: '' }, 'CC 1');
    const strangers = await done({ name: 'Xaver Invented', phone: '', email: '' }, 'DD 1');
    const refused = await erase(hers.id, { jobIds: [hers.id, strangers.id] }).expect(400);
    expect(refused.body.errors).toMatchObject([{ in: 'body', field: '/jobIds' }]);
    await erase(hers.id, { jobIds: [sons.id] }).expect(400);
    await erase(hers.id, { jobIds: [hers.id] }).expect(200);
    expect(await nameOf(hers.id)).toBe('(erased)');
    expect((await api.get(`${at}/jobs/${sons.id}`)).body.job.customer).toMatchObject({
      name: 'Sonny Invented',
      phone: '+00 555 0100',
    });
  });

  test('stays whole while another car of theirs is booked ahead', async () => {
    const past = await done(anna('+00 555 0100', ''), 'AA 1');
    const ahead = await aJob(opened.store, { customer: anna('+00 555 0100', '') });
    const refused = await erase(past.id).expect(409);
    expect(refused.body).toMatchObject({ type: '/problems/wrong-state' });
    expect(refused.body.detail).toContain(`booked ahead (job ${ahead.id})`);
    expect(await nameOf(past.id)).toBe('Anna Invented');
  });

  test('sent twice under one key is erased once', async () => {
    const job = await done(anna('+00 555 0100', ''), 'AA 1');
    const same = key();
    const send = () => api.post(`${at}/jobs/${job.id}/customer-data/erasure`).set(same).send({});
    const first = await send().expect(200);
    const again = await send().expect(200);
    expect(again.body).toEqual(first.body);
    expect(again.headers['idempotency-replayed']).toBe('true');
    const { body } = await api.get(`${at}/audit?kind=erasure`);
    expect(body.items).toHaveLength(1);
  });

  test('of a booking that is not there is 404', async () => {
    await api.get(`${at}/jobs/none/customer-data`).expect(404);
    await erase('none').expect(404);
  });
});

describe('a customer’s data, to the desk', () => {
  test('is for whoever admits people alone', async () => {
    const job = await done(anna('', ''), 'AA 1');
    const signedIn = await openShop({ signIn: true });
    try {
      await admit(signedIn, 'desk');
      const cookie = await cookieOf(signedIn, 'desk-invented');
      const desk = supertest(signedIn.app.server);
      await desk.get(`${at}/jobs/${job.id}/customer-data`).set({ cookie }).expect(403);
      const path = `${at}/jobs/${job.id}/customer-data/erasure`;
      await desk.post(path).set({ cookie }).set(key()).send({}).expect(403);
    } finally {
      await signedIn.close();
    }
  });
});
