import { parse } from 'csv-parse/sync';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FloorEvent, Job } from '../../../src/trade/model/job.ts';
import { car, minutesIn, putPlannedCar } from '../a-planned-car.ts';
import { type Opened, openShop, shop, washer } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}/promises`;

/** A car that was washed on time last week, promised at 90 % with its middle an hour before. */
async function putDoneCar(): Promise<void> {
  const week = -7 * 1440;
  const pickupAt = minutesIn(week + 240);
  const promise = { pickupAt, givenAt: minutesIn(week), confidencePercent: 90, medianReadyAt: minutesIn(week + 180) };
  const done = Job.parse({ ...car, id: 'job-done', state: 'done', dropOffAt: minutesIn(week), promise });
  await opened.store.jobs.put(shop.id, done, 'new');
  const facts = [
    [10, { kind: 'started', operation: 'contact', by: [washer.id] }],
    [75, { kind: 'finished', operation: 'contact' }],
    [250, { kind: 'pickedUp' }],
  ] as const;
  for (const [index, [at, fact]] of facts.entries()) {
    const occurredAt = minutesIn(week + at);
    const clientId = `done-car-${index}`;
    const event = FloorEvent.omit({ sequence: true }).parse({
      jobId: done.id,
      clientId,
      occurredAt,
      recordedAt: occurredAt,
      fact,
    });
    await opened.store.floorEvents.append(shop.id, event);
  }
}

beforeAll(async () => {
  opened = await openShop();
  await putDoneCar();
  await putPlannedCar(opened.store);
  api = request(opened.app.server);
});
afterAll(() => opened.close());

describe('promises', () => {
  test('still to be kept are told with their probability now, as given, and the middle of the forecast', async () => {
    const { body } = await api.get(of).expect(200);
    expect(body.items).toHaveLength(1);
    expect(body.items[0]).toMatchObject({ jobId: car.id, givenPercent: 95, blame: { operations: expect.any(Array) } });
    expect(Date.parse(body.items[0].medianReadyAt)).toBeLessThanOrEqual(Date.parse(body.items[0].surelyReadyAt));
  });

  test('given are held against what was achieved, as a reply and as CSV', async () => {
    const { body } = await api.get(`${of}/calibration`).expect(200);
    expect(body).toMatchObject({ promises: 1, spreadFactor: 1 });
    // One of one kept: Wilson’s interval reaches from 1 / (1 + z²) = 20.7 % to 100 %, with z = 1.96.
    expect(body.coverage).toEqual([
      {
        givenPercent: 90,
        promises: 1,
        kept: 1,
        keptPercent: 100,
        fromPercent: 20.7,
        toPercent: 100,
        verdict: 'asSaid',
      },
    ]);
    // (0.9 - 1)²
    expect(body.brierScore).toBe(0.01);
    expect(body.durations).toMatchObject([{ kind: 'contactWash', records: 1 }]);
    expect(body.setAside).toEqual([]);
    const reply = await api.get(`${of}/calibration.csv`).expect(200).expect('content-type', 'text/csv; charset=utf-8');
    const [line] = parse(reply.text, { columns: true }) as Record<string, string>[];
    expect(line).toMatchObject({ givenPercent: '90', kept: '1', verdict: 'asSaid' });
  });

  test('are remedied in the plan that was looked at, or not at all', async () => {
    const { body } = await api.get(`${of}/${car.id}/remedies`).expect(200);
    expect(body).toMatchObject({ jobId: car.id, remedies: expect.any(Array) });
    const apply = (key: string, planVersion: number) =>
      api
        .post(`${of}/${car.id}/remedies/${key}/apply`)
        .set('idempotency-key', `apply-${key}-${planVersion}`)
        .send({ planVersion, by: 'Nina' });
    await apply('laterPickup', body.planVersion + 1).expect(412);
    await apply('nothingOfTheKind', body.planVersion).expect(404);
    await api.get(`${of}/nobody/remedies`).expect(404);
  });
});
