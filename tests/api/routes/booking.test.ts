import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { booking, key, monday9, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;

beforeEach(async () => {
  opened = await openShop({ planner: createInProcessPlanner(() => 0) });
  api = request(opened.app.server);
});
afterEach(() => opened.close());

interface Choice {
  why: string;
  dropOffAt: string;
  readyAt: string;
  pickupAt: string;
  confidencePercent: number;
  priceMinor: number;
}

async function quoted(body: object = booking): Promise<Choice[]> {
  return (await api.post(`${of}/quotes`).send(body).expect(200)).body.choices;
}

const another = (registration: string) => ({ ...booking, vehicle: { ...booking.vehicle, registration } });

async function held(registration = 'TEST 1', holdMinutes = 30) {
  const [choice] = await quoted(another(registration));
  return api
    .post(`${of}/holds`)
    .set(key())
    .send({ request: another(registration), dropOffAt: choice?.dropOffAt, pickupAt: choice?.pickupAt, holdMinutes });
}

describe('a quote', () => {
  test('offers slots in opening hours, with a pickup after the car is ready and a price', async () => {
    const choices = await quoted();
    expect(choices.length).toBeGreaterThan(0);
    for (const choice of choices) {
      expect(choice.dropOffAt).toMatch(/^2026-03-\d\dT(0[89]|1[0-6]):\d\d:00\+01:00$/);
      expect(Date.parse(choice.readyAt)).toBeGreaterThan(Date.parse(choice.dropOffAt));
      expect(Date.parse(choice.pickupAt)).toBeGreaterThanOrEqual(Date.parse(choice.readyAt));
      expect(choice.confidencePercent).toBeGreaterThanOrEqual(shop.promiseConfidencePercent);
      expect(choice.priceMinor).toBeGreaterThan(0);
    }
  });

  test('asked again is answered the same, and keeps nothing', async () => {
    // Each answer has an id of its own for the car that is not booked yet; everything else is the same.
    const told = (choices: Choice[]) => JSON.stringify(choices).replaceAll(/"jobId":"id-\d+"/g, '"jobId":"a car"');
    expect(told(await quoted())).toBe(told(await quoted()));
    expect((await api.get(`${of}/jobs`).expect(200)).body.items).toEqual([]);
    expect((await api.get(`${of}/plan/version`).expect(200)).body.version).toBe(0);
  });

  test('refuses a car that no bay holds, and says which figure', async () => {
    const long = { ...booking, vehicle: { ...booking.vehicle, lengthMm: 9000 } };
    const reply = await api.post(`${of}/quotes`).send(long).expect(422);
    expect(reply.body.type).toBe('/problems/refused');
    expect(reply.body.errors.map((error: { field: string }) => error.field)).toContain('/vehicle/lengthMm');
  });

  test('names what is wrong with the request', async () => {
    const reply = await api
      .post(`${of}/quotes`)
      .send({ ...booking, recipeId: 'none' })
      .expect(400);
    expect(reply.body.errors).toMatchObject([{ in: 'body', field: '/recipeId' }]);
    await api.post(`${of}/quotes`).send({}).expect(400);
    await api.post('/v1/shops/unknown/quotes').send(booking).expect(404);
  });
});

describe('a hold', () => {
  test('keeps the slot, is confirmed under its version, and becomes a promise', async () => {
    const hold = await held();
    expect(hold.status).toBe(201);
    expect(hold.headers.location).toBe(`${of}/jobs/${hold.body.job.id}`);
    expect(hold.body.job).toMatchObject({ state: 'held', holdUntil: '2026-03-02T09:30:00+01:00' });
    const confirm = `${hold.headers.location}/confirm`;
    await api.post(confirm).set(key()).expect(428);
    await api.post(confirm).set(key()).set('if-match', '"99"').expect(412);
    const confirmed = await api
      .post(confirm)
      .set(key())
      .set('if-match', hold.headers.etag as string)
      .expect(200);
    expect(confirmed.body.job.state).toBe('booked');
    expect(confirmed.body.job.promise.pickupAt).toBe(hold.body.job.promise.pickupAt);
    await api
      .post(confirm)
      .set(key())
      .set('if-match', confirmed.headers.etag as string)
      .expect(409);
  });

  test('cannot be confirmed when its time is up', async () => {
    const hold = await held();
    opened.setNow((monday9 + 31 * 60_000) as Instant);
    const late = await api
      .post(`${hold.headers.location}/confirm`)
      .set(key())
      .set('if-match', hold.headers.etag as string)
      .expect(409);
    expect(late.body.type).toBe('/problems/wrong-state');
  });

  test('is for an hour at most without a deposit note', async () => {
    const [choice] = await quoted();
    const body = { request: booking, dropOffAt: choice?.dropOffAt, holdMinutes: 90 };
    const refused = await api.post(`${of}/holds`).set(key()).send(body).expect(400);
    expect(refused.body.errors).toMatchObject([{ in: 'body', field: '/holdMinutes' }]);
    await api
      .post(`${of}/holds`)
      .set(key())
      .send({ ...body, depositNote: 'paid 50' })
      .expect(201);
    await api
      .post(`${of}/holds`)
      .set(key())
      .send({ ...body, holdMinutes: 0 })
      .expect(400);
  });

  test('a field of the request inside the body is named by its whole path', async () => {
    const [choice] = await quoted();
    const body = { request: { ...booking, recipeId: 'none' }, dropOffAt: choice?.dropOffAt, holdMinutes: 30 };
    const reply = await api.post(`${of}/holds`).set(key()).send(body).expect(400);
    expect(reply.body.errors).toMatchObject([{ in: 'body', field: '/request/recipeId' }]);
  });
});

describe('a booking', () => {
  test('is made at once, sent twice it is one, and it stands in the book', async () => {
    const [choice] = await quoted();
    const body = { request: booking, dropOffAt: choice?.dropOffAt, pickupAt: choice?.pickupAt };
    const same = key();
    const first = await api.post(`${of}/jobs`).set(same).send(body).expect(201);
    const again = await api.post(`${of}/jobs`).set(same).send(body).expect(201);
    expect(again.body).toEqual(first.body);
    expect(again.headers.location).toBe(first.headers.location);
    const list = await api.get(`${of}/jobs?state=booked`).expect(200);
    expect(list.body.items).toHaveLength(1);
    expect((await api.get(first.headers.location as string).expect(200)).body.planned.lateMinutes).toBe(0);
  });

  test('in the past is refused, with the field', async () => {
    const body = { request: booking, dropOffAt: '2026-03-01T10:00:00+01:00', pickupAt: null };
    const reply = await api.post(`${of}/jobs`).set(key()).send(body).expect(400);
    expect(reply.body.errors).toMatchObject([{ in: 'body', field: '/dropOffAt' }]);
  });

  test('two that want the same hour of the one bay are not both taken', async () => {
    const [choice] = await quoted();
    const ask = (registration: string) =>
      api
        .post(`${of}/jobs`)
        .set(key())
        .send({ request: another(registration), dropOffAt: choice?.dropOffAt, pickupAt: choice?.pickupAt });
    const replies = await Promise.all([ask('TEST 1'), ask('TEST 2')]);
    expect(replies.map((reply) => reply.status).filter((status) => status === 201)).toHaveLength(1);
    const loser = replies.find((reply) => reply.status !== 201);
    expect([409, 422]).toContain(loser?.status);
    expect(['/problems/slot-gone', '/problems/nothing-fits']).toContain(loser?.body.type);
    expect(Date.parse(loser?.body.nearest.dropOffAt)).toBeGreaterThan(Date.parse(choice?.dropOffAt ?? ''));
  });

  test('is changed under its version; words change nothing of the plan, an hour does', async () => {
    const [choice] = await quoted();
    const made = await api
      .post(`${of}/jobs`)
      .set(key())
      .send({ request: booking, dropOffAt: choice?.dropOffAt })
      .expect(201);
    const address = made.headers.location as string;
    await api.patch(address).send({ notes: 'no condition' }).expect(428);
    const noted = await api
      .patch(address)
      .set('if-match', made.headers.etag as string)
      .send({ notes: 'key in the box' })
      .expect(200);
    expect(noted.body.job).toMatchObject({ notes: 'key in the box', dropOffAt: made.body.job.dropOffAt });
    await api
      .patch(address)
      .set('if-match', made.headers.etag as string)
      .send({ notes: 'late' })
      .expect(412);
    const unknown = await api.patch(address).set('if-match', '*').send({ colour: 'red' }).expect(400);
    expect(unknown.body.errors).toMatchObject([{ in: 'body', field: '/colour' }]);
    const past = await api
      .patch(address)
      .set('if-match', '*')
      .send({ dropOffAt: '2026-02-27T09:00:00+01:00' })
      .expect(400);
    expect(past.body.errors).toMatchObject([{ field: '/dropOffAt' }]);
  });
});

describe('a walk-in', () => {
  test('is taken now when today holds it, once for a key', async () => {
    const body = { request: booking, clientId: 'desk-walk-in-1' };
    const same = key();
    const taken = await api.post(`${of}/walk-ins`).set(same).send(body).expect(201);
    expect(taken.body.job).toMatchObject({ state: 'inShop', dropOffAt: '2026-03-02T09:00:00+01:00' });
    const again = await api.post(`${of}/walk-ins`).set(same).send(body).expect(201);
    expect(again.body.job.id).toBe(taken.body.job.id);
  });

  test('at the end of the day is told what is nearest: ready tomorrow', async () => {
    opened.setNow(Date.parse('2026-03-02T16:30:00+01:00') as Instant);
    const reply = await api
      .post(`${of}/walk-ins`)
      .set(key())
      .send({ request: booking, clientId: 'desk-walk-in-2' })
      .expect(422);
    expect(reply.body.type).toBe('/problems/nothing-fits');
    expect(reply.body.nearest.readyAt).toMatch(/^2026-03-03T/);
  });

  test('needs a device id of its own', async () => {
    const reply = await api.post(`${of}/walk-ins`).set(key()).send({ request: booking }).expect(400);
    expect(reply.body.errors).toMatchObject([{ field: '/clientId' }]);
  });
});
