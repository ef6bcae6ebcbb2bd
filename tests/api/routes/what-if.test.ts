import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { putPlannedCar } from '../a-planned-car.ts';
import { key, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;
/** Monday 2 March 2026: the car is washed from 10:20 to 11:50 as planned, and promised for 15:00. */
const at = (clock: string) => `2026-03-02T${clock}:00+01:00`;

beforeEach(async () => {
  opened = await openShop({ planner: createInProcessPlanner(() => 0) });
  await putPlannedCar(opened.store);
  api = request(opened.app.server);
  await api.post(`${of}/plan/replans`).set(key()).send({ reason: 'as the engine has it' }).expect(201);
});
afterEach(() => opened.close());

async function foam() {
  const { body } = await api.get(`${of}/jobs/job-1`).expect(200);
  return body.operations.find((each: { operation: string }) => each.operation === 'foam') as { start: string };
}

describe('what if it went here', () => {
  test('is answered with what moves, named by the plan it was asked against, and keeps nothing', async () => {
    const asked = { jobId: 'job-1', operation: 'foam', startAt: at('12:00') };
    const answered = await api.post(`${of}/what-ifs`).send(asked).expect(200);
    expect(answered.headers.etag).toBe('"2"');
    expect(answered.body).toMatchObject({ allowed: true, planVersion: 2, reasons: [], wish: { startAt: at('12:00') } });
    const moved = answered.body.moves.find((each: { operation: string }) => each.operation === 'foam');
    expect(moved.after.start).toBe(at('12:00'));
    expect((await api.get(`${of}/plan/version`).expect(200)).body.version).toBe(2);
  });

  test('is refused with the rule when nobody is at work then', async () => {
    const asked = { jobId: 'job-1', operation: 'foam', startAt: at('23:00') };
    const { body } = await api.post(`${of}/what-ifs`).send(asked).expect(200);
    expect(body.allowed).toBe(false);
    expect(body.reasons[0]).toMatchObject({ rule: 'hours', field: 'startAt' });
  });

  test('wants a place, an hour or a person, of a car and work that are there', async () => {
    await api.post(`${of}/what-ifs`).send({ jobId: 'job-1', operation: 'foam' }).expect(400);
    await api
      .post(`${of}/what-ifs`)
      .send({ jobId: 'nobody', startAt: at('12:00') })
      .expect(404);
    await api
      .post(`${of}/what-ifs`)
      .send({ jobId: 'job-1', operation: 'none', startAt: at('12:00') })
      .expect(404);
    await api.post(`${of}/what-ifs`).send({ jobId: 'job-1', startAt: '2026-03-01T12:00:00+01:00' }).expect(400);
  });
});

describe('a wish', () => {
  const whatIf = { jobId: 'job-1', operation: 'foam', startAt: at('12:00') };
  const keep = (etag: string, body: object = { whatIf }) =>
    api
      .post(`${of}/wishes`)
      .set({ ...key(), 'if-match': etag })
      .send(body);

  test('is kept with the plan it was asked against, stands on the job, and is withdrawn to where things were', async () => {
    const before = await foam();
    await api.post(`${of}/wishes`).set(key()).send({ whatIf }).expect(428);
    await keep('"1"').expect(412);
    const kept = await keep('"2"').expect(201);
    expect(kept.headers.etag).toBe('"3"');
    expect((await foam()).start).toBe(at('12:00'));
    const { body } = await api.get(`${of}/jobs/job-1`).expect(200);
    expect(body.job.wishes).toMatchObject([{ operation: 'foam', startAt: at('12:00'), planBefore: 2 }]);

    const withdraw = (etag: string) =>
      api.post(`${of}/jobs/job-1/operations/foam/wish/withdraw`).set({ ...key(), 'if-match': etag });
    await withdraw('"2"').expect(412);
    const withdrawn = await withdraw('"3"').expect(200);
    expect(withdrawn.body).toMatchObject({ published: 4, notRestored: [] });
    expect((await foam()).start).toBe(before.start);
    await withdraw('"4"').expect(404);
  });

  test('that breaks a promise is kept only when somebody accepts that', async () => {
    const late = { ...whatIf, startAt: null, notBefore: at('16:30') };
    const refused = await keep('"2"', { whatIf: late }).expect(422);
    expect(refused.body.errors).toMatchObject([{ rule: 'promise' }]);
    const kept = await keep('"2"', { whatIf: late, acceptBroken: true }).expect(201);
    expect(kept.body.pickups[0]).toMatchObject({ jobId: 'job-1', broken: true });
  });
});

describe('rain', () => {
  test('is asked about for tomorrow unless another day is named', async () => {
    expect((await api.get(`${of}/what-ifs/rain`).expect(200)).body.day).toBe('2026-03-03');
    const { body } = await api.get(`${of}/what-ifs/rain?day=2026-03-02`).expect(200);
    expect(body).toMatchObject({ day: '2026-03-02', coatings: [] });
    await api.get(`${of}/what-ifs/rain?day=monday`).expect(400);
  });
});
