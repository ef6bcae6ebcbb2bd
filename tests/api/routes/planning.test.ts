import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { putPlannedCar } from '../a-planned-car.ts';
import { bay, key, lead, monday9, type Opened, openShop, shop, wash, washer } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;

beforeEach(async () => {
  opened = await openShop({ planner: createInProcessPlanner(() => 0) });
  await putPlannedCar(opened.store);
  api = request(opened.app.server);
});
afterEach(() => opened.close());

describe('planning again', () => {
  test('publishes the next version, in which the promise is kept', async () => {
    const done = await api.post(`${of}/plan/replans`).set(key()).send({ reason: 'asked by a test' }).expect(201);
    expect(done.body).toMatchObject({ published: true, broken: [], plan: { version: 2, reason: 'asked by a test' } });
    const planned = await api.get(`${of}/plan`).expect(200);
    expect(planned.body).toEqual(done.body.plan);
    const job = planned.body.jobs.find((each: { jobId: string }) => each.jobId === 'job-1');
    expect(job.lateMinutes).toBe(0);
    expect(Date.parse(job.dropOffAt)).toBe(monday9 + 3600_000);
  });

  test('wants a reason, and a key, and is done once for a key', async () => {
    await api.post(`${of}/plan/replans`).set(key()).send({ reason: '' }).expect(400);
    const same = key();
    const first = await api.post(`${of}/plan/replans`).set(same).send({ reason: 'twice' }).expect(201);
    const again = await api.post(`${of}/plan/replans`).set(same).send({ reason: 'twice' }).expect(201);
    expect(again.body).toEqual(first.body);
    expect((await api.get(`${of}/plan/version`).expect(200)).body.version).toBe(2);
  });

  test('follows when somebody falls ill, and says whose promise cannot be kept', async () => {
    const away = { from: '2026-03-02T10:00:00+01:00', to: '2026-03-03T17:00:00+01:00', note: 'ill' };
    await api.post(`${of}/technicians/ada/time-off`).set(key()).send(away).expect(201);
    const both = await api.post(`${of}/technicians/bo/time-off`).set(key()).send(away).expect(201);
    expect(both.body.broken).toMatchObject([{ jobId: 'job-1' }]);
    const told = await api.get(`${of}/exceptions`).expect(200);
    expect(told.body.items.map((each: { kind: string }) => each.kind)).toContain('promiseBroken');
    const backwards = { ...away, to: '2026-03-02T09:00:00+01:00' };
    const refused = await api.post(`${of}/technicians/ada/time-off`).set(key()).send(backwards).expect(400);
    expect(refused.body.errors).toMatchObject([{ in: 'body', field: '/to' }]);
    await api.post(`${of}/technicians/none/time-off`).set(key()).send(away).expect(404);
  });
});

describe('why it takes so long', () => {
  test('each operation comes with lines that add up to its minutes', async () => {
    const { body } = await api.get(`${of}/jobs/job-1/breakdown`).expect(200);
    expect(body.items.map((item: { operation: string }) => item.operation)).toEqual([
      'intake',
      'foam',
      'contact',
      'dry',
      'final',
      'handover',
    ]);
    for (const { minutes, lines } of body.items) {
      expect(lines.reduce((sum: number, line: { minutes: number }) => sum + line.minutes, 0)).toBe(minutes);
    }
    const contact = body.items.find((item: { operation: string }) => item.operation === 'contact');
    expect(contact).toMatchObject({ minutes: 60, plannedMinutes: 60, state: 'planned', conditional: false });
    await api.get(`${of}/jobs/none/breakdown`).expect(404);
  });

  test('a slower washer adds a line of pace: at 80 % work takes a quarter longer', async () => {
    const steps = wash.steps.map((each) =>
      each.key === 'contact' ? { ...each, duration: { by: 'workContent' as const } } : each,
    );
    await api
      .put(`${of}/recipes/wash`)
      .set('if-match', '*')
      .send({ ...wash, steps })
      .expect(200);
    const contact = async () => {
      const { body } = await api.get(`${of}/jobs/job-1/breakdown`).expect(200);
      return body.items.find((item: { operation: string }) => item.operation === 'contact');
    };
    const norm = await contact();
    await api
      .put(`${of}/technicians/bo`)
      .set('if-match', '*')
      .send({ ...washer, pacePercent: 80 })
      .expect(200);
    const slow = await contact();
    expect(slow.minutes).toBe(Math.ceil(norm.minutes / 0.8));
    expect(slow.lines).toEqual([...norm.lines, { label: 'pace 80 %', minutes: slow.minutes - norm.minutes }]);
  });

  test('a closed job has nothing planned', async () => {
    await api.post(`${of}/jobs/job-1/cancel`).set(key()).set('if-match', '*').send({}).expect(200);
    await api.get(`${of}/jobs/job-1/breakdown`).expect(409);
  });
});

describe('what a change would break, before it is made', () => {
  async function untouched() {
    expect((await api.get(`${of}/plan/version`).expect(200)).body.version).toBe(1);
    expect(opened.asked).toEqual([]);
  }

  test('a change that breaks nothing says so', async () => {
    const { body } = await api
      .post(`${of}/places/bay-1/effects`)
      .send({ ...bay, name: 'Bay One' })
      .expect(200);
    expect(body).toMatchObject({
      planVersion: 1,
      plannable: true,
      proved: true,
      promises: [],
      leftOut: [],
      released: [],
    });
    await untouched();
    expect((await api.get(`${of}/places/bay-1`).expect(200)).body.name).toBe('Bay 1');
  });

  test('an afternoon off for the only two people breaks the promise, by name', async () => {
    const off = { date: '2026-03-02', kind: 'off', parts: [{ from: '11:00', to: '24:00' }] };
    await api
      .put(`${of}/technicians/bo`)
      .set('if-match', '*')
      .send({ ...washer, exceptions: [off] })
      .expect(200);
    opened.asked.length = 0;
    const { body } = await api
      .post(`${of}/technicians/ada/effects`)
      .send({ ...lead, exceptions: [off] })
      .expect(200);
    expect(body.promises).toMatchObject([
      { jobId: 'job-1', promisedPickupAt: '2026-03-02T15:00:00+01:00', lateMinutesBefore: 0 },
    ]);
    expect(body.promises[0].lateMinutesAfter).toBeGreaterThan(0);
    expect(body.moved.map((each: { jobId: string }) => each.jobId)).toEqual(['job-1']);
    await untouched();
  });

  test('removing the only bay leaves its cars without a plan', async () => {
    const { body } = await api.get(`${of}/places/bay-1/removal-effects`).expect(200);
    expect(body.plannable === false || body.leftOut.length === 1).toBe(true);
    await untouched();
    await api.get(`${of}/places/none/removal-effects`).expect(404);
  });

  test('shorter hours of the shop break no promise, but leave a pickup at a closed door', async () => {
    const short = { ...shop, hours: { ...shop.hours, monday: [{ from: '08:00', to: '14:30' }] } };
    const { body } = await api.post(`${of}/effects`).send(short).expect(200);
    expect(body.promises).toEqual([]);
    expect(body.outsideHours).toMatchObject([{ jobId: 'job-1', what: 'pickup', at: '2026-03-02T15:00:00+01:00' }]);
    const toTheMinute = { ...shop, hours: { ...shop.hours, monday: [{ from: '10:00', to: '15:00' }] } };
    expect((await api.post(`${of}/effects`).send(toTheMinute).expect(200)).body.outsideHours).toEqual([]);
    await api
      .post(`${of}/effects`)
      .send({ ...short, id: 'other' })
      .expect(400);
    await untouched();
  });

  test('what contradicts itself is refused before anything is planned', async () => {
    const reply = await api
      .post(`${of}/places/bay-1/effects`)
      .send({ ...bay, blockedBy: ['bay-1'] })
      .expect(422);
    expect(reply.body.errors).toMatchObject([{ field: '/blockedBy' }]);
  });
});
