import { stringify } from 'csv-stringify/sync';
import request from 'supertest';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { key, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;

beforeEach(async () => {
  opened = await openShop({ planner: createInProcessPlanner(() => 0) });
  api = request(opened.app.server);
});
afterEach(() => opened.close());

const line = {
  customer: 'Dana Invented',
  class: 'compact',
  registration: 'TEST 7',
  'length mm': '4100',
  'height mm': '1500',
  recipe: 'wash',
  'drop-off': '2026-03-02 10:00',
  pickup: '2026-03-02 16:00',
};

function csv(...lines: object[]): string {
  return stringify(lines, { header: true, columns: Object.keys(line) });
}

function send(body: string, query = '') {
  return api.post(`${of}/diary-imports${query}`).set(key()).set('content-type', 'text/csv').send(body);
}

async function jobs(): Promise<{ job: { customer: { name: string }; promise: { pickupAt: string } } }[]> {
  return (await api.get(`${of}/jobs`).expect(200)).body.items;
}

describe('a diary brought in', () => {
  test('is first tried without storing anything', async () => {
    const report = await send(csv(line), '?dryRun=true').expect(200);
    expect(report.body).toMatchObject({
      dryRun: true,
      lines: 1,
      faults: [],
      cannotKeep: 0,
      jobs: [
        { line: 2, jobId: null, customer: 'Dana Invented', promisedPickupAt: '2026-03-02T16:00:00+01:00', kept: true },
      ],
    });
    expect(await jobs()).toEqual([]);
  });

  test('becomes bookings with their promises, in a plan', async () => {
    const report = await send(csv(line)).expect(201);
    expect(report.body.jobs[0].jobId).toBeTruthy();
    const [booked] = await jobs();
    expect(booked?.job).toMatchObject({
      customer: { name: 'Dana Invented' },
      promise: { pickupAt: '2026-03-02T16:00:00+01:00' },
    });
    expect((await api.get(`${of}/plan/version`).expect(200)).body.version).toBe(1);
  });

  test('that promises more than one bay can do says which promise cannot be kept', async () => {
    const both = csv(
      line,
      { ...line, customer: 'Eli Invented', registration: 'TEST 8', pickup: '2026-03-02 13:00' },
      {
        ...line,
        customer: 'Fay Invented',
        registration: 'TEST 9',
        pickup: '2026-03-02 13:00',
      },
    );
    const report = await send(both, '?dryRun=true').expect(200);
    expect(report.body.cannotKeep).toBeGreaterThan(0);
    expect(report.body.jobs.filter((each: { kept: boolean }) => !each.kept)).toHaveLength(report.body.cannotKeep);
  });

  test('with a fault in one line is not brought in at all, and line and column are named', async () => {
    const odd = csv(line, { ...line, class: 'rocket', 'drop-off': 'soon' });
    const refused = await send(odd).expect(422);
    expect(refused.body.errors.map((error: { field: string }) => error.field)).toEqual(
      expect.arrayContaining(['/line 3/class', '/line 3/drop-off']),
    );
    expect(await jobs()).toEqual([]);
    const tried = await send(odd, '?dryRun=true').expect(200);
    expect(tried.body.faults).toEqual(expect.arrayContaining([expect.objectContaining({ line: 3, column: 'class' })]));
  });

  test('has the columns that are told, and no others', async () => {
    const columns = await api.get(`${of}/diary-imports/columns`).expect(200);
    expect(columns.body.items.filter((each: { required: boolean }) => each.required).length).toBeGreaterThan(3);
    const strange = stringify([{ ...line, moon: 'full' }], { header: true });
    const refused = await send(strange).expect(422);
    expect(JSON.stringify(refused.body.errors)).toContain('moon');
  });

  test('is CSV and not empty, under a key', async () => {
    await send('').expect(400);
    await send(csv(line), '?dryRun=perhaps').expect(400);
    await api.post(`${of}/diary-imports`).set('content-type', 'text/csv').send(csv(line)).expect(400);
    await api
      .post('/v1/shops/unknown/diary-imports')
      .set(key())
      .set('content-type', 'text/csv')
      .send(csv(line))
      .expect(404);
  });
});
