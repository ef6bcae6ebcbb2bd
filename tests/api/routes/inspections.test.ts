import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { minutesIn, putPlannedCar } from '../a-planned-car.ts';
import { key, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const job = `/v1/shops/${shop.id}/jobs/job-1`;

beforeEach(async () => {
  opened = await openShop({ planner: createInProcessPlanner(() => 0) });
  await putPlannedCar(opened.store);
  opened.setNow(minutesIn(61));
  api = request(opened.app.server);
});
afterEach(() => opened.close());

async function arrive() {
  const fact = { kind: 'arrived', placeId: 'bay-1' };
  const body = { clientId: 'tablet-arrival', occurredAt: '2026-03-02T10:00:00+01:00', fact };
  await api.post(`${job}/floor-events`).set(key()).send(body).expect(201);
}

const found = {
  at: '2026-03-02T10:00:30+01:00',
  panels: [
    { panel: 'bonnet', defects: 3, note: 'deep swirls' },
    { panel: 'roof', defects: 1 },
  ],
  film: [
    { panel: 'bonnet', micrometres: 120, gaugeErrorMicrometres: 3, at: '2026-03-02T10:00:30+01:00' },
    { panel: 'roof', micrometres: 81, gaugeErrorMicrometres: 3, at: '2026-03-02T10:00:30+01:00' },
  ],
  paintHardness: 'hard',
};

describe('the inspection on clean paint', () => {
  test('revises scope and price and asks for an answer by a deadline', async () => {
    await arrive();
    const reply = await api.post(`${job}/inspection`).set(key()).set('if-match', '*').send(found).expect(201);
    expect(reply.body.correctionPasses).toBeGreaterThan(0);
    expect(reply.body.job.inspection.panels).toEqual(found.panels);
    expect(reply.body.job.inspection.at).toBe(found.at);
    expect(reply.body.answerBy).toBe('2026-03-02T12:01:00+01:00');
    expect(reply.headers.etag).toBe(`"${reply.body.job.version}"`);
    expect((await api.get(job).expect(200)).body.job.scope.answer).toBe(reply.body.job.scope.answer);
  });

  test('cuts no panel that would fall under the floor of the shop, and tells the figures', async () => {
    // The shop's floor is 80 micrometres: 81 less the gauge's error of 3 is below it before any cut.
    await arrive();
    const deep = { ...found, panels: [...found.panels, { panel: 'roof', defects: 4 }].slice(-1) };
    const reply = await api.post(`${job}/inspection`).set(key()).set('if-match', '*').send(deep).expect(201);
    expect(reply.body.refusedPanels).toMatchObject([{ rule: 'filmFloor' }]);
    expect(reply.body.refusedPanels[0].text).toContain('81');
    expect(reply.body.job.scope.sparedPanels).toEqual(['roof']);
  });

  test('is not taken of a car that is not there, nor in the future', async () => {
    const away = await api.post(`${job}/inspection`).set(key()).set('if-match', '*').send(found).expect(409);
    expect(away.body.type).toBe('/problems/wrong-state');
    await arrive();
    const future = { ...found, at: '2026-03-02T18:00:00+01:00' };
    const refused = await api.post(`${job}/inspection`).set(key()).set('if-match', '*').send(future).expect(400);
    expect(refused.body.errors).toMatchObject([{ in: 'body', field: '/at' }]);
  });

  test('names the panel and figure that are wrong, and needs the version read', async () => {
    await arrive();
    const odd = { ...found, film: [{ ...found.film[0], micrometres: -5 }] };
    const refused = await api.post(`${job}/inspection`).set(key()).set('if-match', '*').send(odd).expect(400);
    expect(refused.body.errors).toMatchObject([{ field: '/film/0/micrometres' }]);
    const door = { ...found, panels: [{ panel: 'spoiler', defects: 1 }] };
    await api.post(`${job}/inspection`).set(key()).set('if-match', '*').send(door).expect(400);
    await api.post(`${job}/inspection`).set(key()).send(found).expect(428);
    await api.post(`${job}/inspection`).set(key()).set('if-match', '"1"').send(found).expect(412);
  });
});

describe("the customer's answer", () => {
  test('is taken once, while it is awaited', async () => {
    await arrive();
    const asked = await api.post(`${job}/inspection`).set(key()).set('if-match', '*').send(found).expect(201);
    expect(asked.body.job.scope.answer).toBe('awaited');
    await api.post(`${job}/scope-answer`).set(key()).send({ answer: 'approved' }).expect(428);
    const answered = await api
      .post(`${job}/scope-answer`)
      .set(key())
      .set('if-match', asked.headers.etag as string)
      .send({ answer: 'approved' })
      .expect(200);
    expect(answered.body.job).toMatchObject({
      scope: { answer: 'approved' },
      priceMinor: asked.body.priceMinor,
    });
    await api.post(`${job}/scope-answer`).set(key()).set('if-match', '*').send({ answer: 'declined' }).expect(409);
  });

  test('is yes or no', async () => {
    const reply = await api.post(`${job}/scope-answer`).set(key()).set('if-match', '*').send({ answer: 'perhaps' });
    expect(reply.status).toBe(400);
    expect(reply.body.errors).toMatchObject([{ field: '/answer' }]);
  });
});
