import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import type { Replies } from '../../../src/store/store.ts';
import { minutesIn, putPlannedCar } from '../a-planned-car.ts';
import { booking, key, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;
const events = `${of}/jobs/job-1/floor-events`;
const arrived = {
  ...{ clientId: 'tablet-000001', occurredAt: '2026-03-02T10:00:00+01:00' },
  fact: { kind: 'arrived', placeId: 'bay-1' },
};

beforeEach(async () => {
  opened = await openShop({ planner: createInProcessPlanner() });
  api = request(opened.app.server);
});
afterEach(() => opened.close());

/** From now on nothing is stored of a reply after its effect: as when the process dies in between. */
function dieAfterTheEffect(): void {
  const gone = async () => {
    throw new Error('the process is gone');
  };
  Object.assign(opened.store.replies, { complete: gone, abandon: gone } satisfies Partial<Replies>);
}

async function twice(path: string, body: object) {
  const same = key();
  const first = await api.post(path).set(same).send(body).expect(201);
  const again = await api.post(path).set(same).send(body).expect(201);
  expect(again.headers['idempotency-replayed']).toBe('true');
  expect(again.body).toEqual(first.body);
  for (const name of ['content-type', 'etag', 'location']) expect(again.headers[name]).toBe(first.headers[name]);
}

describe('a process that dies between an effect and its reply', () => {
  test('has stored the reply to a fact with the fact', async () => {
    await putPlannedCar(opened.store);
    opened.setNow(minutesIn(62));
    dieAfterTheEffect();
    await twice(events, arrived);
    expect((await api.get(events).expect(200)).body.items).toHaveLength(1);
  });

  test('has stored the reply to a booking, and to a hold, with the job and its plan', async () => {
    dieAfterTheEffect();
    await twice(`${of}/jobs`, { request: booking, dropOffAt: '2026-03-03T09:00:00+01:00', depositNote: '' });
    const held = { request: booking, dropOffAt: '2026-03-04T09:00:00+01:00', holdMinutes: 20, depositNote: '' };
    await twice(`${of}/holds`, held);
    expect((await api.get(`${of}/jobs`).expect(200)).body.items).toHaveLength(2);
  });

  test('has stored nothing when the effect failed, which may then be tried again under the same key', async () => {
    await putPlannedCar(opened.store);
    opened.setNow(minutesIn(62));
    const same = key();
    const { transaction } = opened.store;
    Object.assign(opened.store, {
      transaction: (shopId: typeof shop.id, work: Parameters<typeof transaction>[1]) =>
        transaction(shopId, async (records) => {
          await work(records);
          throw new Error('the disk is full');
        }),
    });
    await api.post(events).set(same).send(arrived).expect(500);
    Object.assign(opened.store, { transaction });
    await api.post(events).set(same).send(arrived).expect(201);
    expect((await api.get(events).expect(200)).body.items).toHaveLength(1);
  });
});
