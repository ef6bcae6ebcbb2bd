import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { minutesIn, putPlannedCar } from '../a-planned-car.ts';
import { key, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;
const events = `${of}/jobs/job-1/floor-events`;

beforeEach(async () => {
  opened = await openShop();
  await putPlannedCar(opened.store);
  opened.setNow(minutesIn(62));
  api = request(opened.app.server);
});
afterEach(() => opened.close());

let devices = 0;
function fact(body: object, occurredAt = '2026-03-02T10:00:00+01:00') {
  devices += 1;
  return { clientId: `tablet-${String(devices).padStart(6, '0')}`, occurredAt, fact: body };
}

const arrived = { kind: 'arrived', placeId: 'bay-1' };

describe('what happens on the floor', () => {
  test('is recorded with its number and answered with the job it changed', async () => {
    const reply = await api.post(events).set(key()).send(fact(arrived)).expect(201);
    expect(reply.body).toMatchObject({
      event: { jobId: 'job-1', sequence: 1, occurredAt: '2026-03-02T10:00:00+01:00', fact: arrived },
      fresh: true,
    });
    expect((await api.get(`${of}/jobs/job-1`).expect(200)).body.job.state).toBe('inShop');
  });

  test('sent twice by a device is one fact, even under another key', async () => {
    const body = fact(arrived);
    await api.post(events).set(key()).send(body).expect(201);
    const again = await api.post(events).set(key()).send(body).expect(200);
    expect(again.body.fresh).toBe(false);
    expect((await api.get(events).expect(200)).body.items).toHaveLength(1);
  });

  test('is told from a number on, for a device that was out of reach', async () => {
    await api.post(events).set(key()).send(fact(arrived)).expect(201);
    await api
      .post(events)
      .set(key())
      .send(fact({ kind: 'noted', operation: null, text: 'scratch on the sill' }))
      .expect(201);
    const later = await api.get(`${events}?after=1`).expect(200);
    expect(later.body.items).toMatchObject([{ sequence: 2, fact: { kind: 'noted', text: 'scratch on the sill' } }]);
  });

  test('against a rule is recorded all the same, and the desk is told', async () => {
    const reply = await api
      .post(events)
      .set(key())
      .send(fact({ kind: 'finished', operation: 'contact' }))
      .expect(201);
    expect(reply.body.exceptions.length).toBeGreaterThan(0);
    const told = await api.get(`${of}/exceptions`).expect(200);
    expect(told.body.items).toMatchObject([{ kind: 'factAgainstRule', jobId: 'job-1', acknowledgedAt: null }]);
  });

  test('cannot lie in the future, nor be of a kind, step or job nobody knows', async () => {
    const future = await api.post(events).set(key()).send(fact(arrived, '2026-03-02T18:00:00+01:00')).expect(400);
    expect(future.body.errors).toMatchObject([{ in: 'body', field: '/occurredAt' }]);
    const kind = await api
      .post(events)
      .set(key())
      .send(fact({ kind: 'vanished' }))
      .expect(400);
    expect(kind.body.errors[0].field).toContain('/fact');
    await api
      .post(events)
      .set(key())
      .send(fact({ kind: 'finished', operation: 'levitate' }))
      .expect(400);
    await api.post(`${of}/jobs/none/floor-events`).set(key()).send(fact(arrived)).expect(404);
    await api.get(`${of}/jobs/none/floor-events`).expect(404);
    await api.get(`${events}?after=-1`).expect(400);
    await api.post(events).send(fact(arrived)).expect(400);
  });
});

describe('starting work', () => {
  const gates = `${of}/jobs/job-1/operations/intake/gates`;
  const start = `${of}/jobs/job-1/operations/intake/start`;

  test('waits for the work before it: the gate says so, and the start is refused in the same words', async () => {
    const contact = `${of}/jobs/job-1/operations/contact`;
    const asked = await api.get(`${contact}/gates?by=bo`).expect(200);
    expect(asked.body.open).toBe(false);
    const refused = await api
      .post(`${contact}/start`)
      .set(key())
      .send({ by: ['bo'], clientId: 'tablet-start-1' })
      .expect(422);
    expect(refused.body.type).toBe('/problems/gate-shut');
    expect(refused.body.errors.map((error: { message: string }) => error.message)).toEqual(
      asked.body.objections.map((objection: { text: string }) => objection.text),
    );
    expect((await api.get(events).expect(200)).body.items).toEqual([]);
  });

  test('goes ahead once the car is in its bay, once', async () => {
    await api.post(events).set(key()).send(fact(arrived)).expect(201);
    expect((await api.get(`${gates}?by=ada`).expect(200)).body).toEqual({ open: true, objections: [] });
    const body = { by: ['ada'], clientId: 'tablet-start-2' };
    const started = await api.post(start).set(key()).send(body).expect(201);
    expect(started.body.event.fact).toEqual({ kind: 'started', operation: 'intake', by: ['ada'] });
    expect((await api.post(start).set(key()).send(body).expect(200)).body.fresh).toBe(false);
  });

  test('needs somebody known, a step that is there and a device id', async () => {
    await api.post(events).set(key()).send(fact(arrived)).expect(201);
    const nobody = await api.post(start).set(key()).send({ by: [], clientId: 'tablet-start-3' }).expect(400);
    expect(nobody.body.errors).toMatchObject([{ in: 'body', field: '/by' }]);
    await api
      .post(start)
      .set(key())
      .send({ by: ['ada'], clientId: 'x' })
      .expect(400);
    const unknown = await api.get(`${of}/jobs/job-1/operations/levitate/gates?by=ada`);
    expect([400, 404]).toContain(unknown.status);
    await api.get(`${gates}?by=a,b,c,d,e`).expect(400);
  });
});

describe('exceptions for the desk', () => {
  async function raised(): Promise<string> {
    await api
      .post(events)
      .set(key())
      .send(fact({ kind: 'finished', operation: 'contact' }))
      .expect(201);
    return (await api.get(`${of}/exceptions`).expect(200)).body.items[0].id;
  }

  test('leave the open list when somebody has seen them, and stand in the whole one', async () => {
    const id = await raised();
    const seen = await api.post(`${of}/exceptions/${id}/acknowledge`).set(key()).send({ by: 'Ada' }).expect(200);
    expect(seen.body).toMatchObject({ id, acknowledgedBy: 'Ada', acknowledgedAt: '2026-03-02T10:02:00+01:00' });
    const again = await api.post(`${of}/exceptions/${id}/acknowledge`).set(key()).send({ by: 'Bo' }).expect(200);
    expect(again.body.acknowledgedBy).toBe('Ada');
    const open = await api.get(`${of}/exceptions`).expect(200);
    expect(open.body.items.map((each: { id: string }) => each.id)).not.toContain(id);
    const all = await api.get(`${of}/exceptions?state=all`).expect(200);
    expect(all.body.items.map((each: { id: string }) => each.id)).toContain(id);
  });

  test('are acknowledged by somebody, and only when they are there', async () => {
    const id = await raised();
    await api.post(`${of}/exceptions/${id}/acknowledge`).set(key()).send({ by: '' }).expect(400);
    await api.post(`${of}/exceptions/${id}/acknowledge`).set(key()).send({}).expect(400);
    await api.post(`${of}/exceptions/none/acknowledge`).set(key()).send({ by: 'Ada' }).expect(404);
    await api.get(`${of}/exceptions?state=lost`).expect(400);
  });
});

describe('closing a job without work', () => {
  test('frees its slot, under the version that was read', async () => {
    const cancel = `${of}/jobs/job-1/cancel`;
    await api.post(cancel).set(key()).send({ note: 'changed their mind' }).expect(428);
    await api.post(cancel).set(key()).set('if-match', '"9-1"').send({ note: '' }).expect(412);
    const closed = await api
      .post(cancel)
      .set(key())
      .set('if-match', '"1-1"')
      .send({ note: 'changed their mind' })
      .expect(200);
    expect(closed.body.job.state).toBe('cancelled');
    expect(closed.headers.etag).toMatch(/^"2-/);
    await api
      .post(cancel)
      .set(key())
      .set('if-match', closed.headers.etag as string)
      .send({ note: '' })
      .expect(409);
  });

  test('a car is no no-show before its hour has passed', async () => {
    opened.setNow(minutesIn(0));
    const noShow = `${of}/jobs/job-1/no-show`;
    const early = await api.post(noShow).set(key()).set('if-match', '*').send({}).expect(409);
    expect(early.body.type).toBe('/problems/wrong-state');
    opened.setNow(minutesIn(180));
    const closed = await api.post(noShow).set(key()).set('if-match', '*').send({}).expect(200);
    expect(closed.body.job.state).toBe('noShow');
  });

  test('a job that was not held is not confirmed', async () => {
    await api.post(`${of}/jobs/job-1/confirm`).set(key()).set('if-match', '*').expect(409);
    await api.post(`${of}/jobs/none/confirm`).set(key()).set('if-match', '*').expect(404);
  });
});
