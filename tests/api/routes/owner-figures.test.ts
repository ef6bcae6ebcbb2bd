import { parse } from 'csv-parse/sync';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { putPlannedCar } from '../a-planned-car.ts';
import { type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}/utilisation`;

beforeAll(async () => {
  opened = await openShop();
  await putPlannedCar(opened.store);
  api = request(opened.app.server);
});
afterAll(() => opened.close());

const csv = async (path: string): Promise<Record<string, string>[]> => {
  const reply = await api.get(`${of}/${path}`).expect(200).expect('content-type', 'text/csv; charset=utf-8');
  expect(reply.headers['content-disposition']).toMatch(/^attachment; filename="[\w-]+\.csv"$/);
  return parse(reply.text, { columns: true });
};

describe("the owner's figures", () => {
  test('week by week: six weeks unless told, and the same as CSV', async () => {
    const { body } = await api.get(`${of}/weeks`).expect(200);
    expect(body.weeks).toHaveLength(6);
    expect(body.weeks[3].monday).toBe('2026-03-02');
    const lines = await csv('weeks.csv');
    expect(lines.map((line) => Number(line.worked))).toEqual(body.weeks.map((week: { worked: number }) => week.worked));
    await api.get(`${of}/weeks?before=27`).expect(400);
  });

  test('revenue: nothing was picked up, and so there is no line and no hour to divide by', async () => {
    const { body } = await api.get(`${of}/revenue?weeks=4`).expect(200);
    expect(body).toMatchObject({ firstMonday: '2026-02-09', currency: 'EUR', recipes: [] });
    expect(body.all).toEqual({ cars: 0, revenueMinor: 0, bayMinutes: 0, perBayHourMinor: null });
    expect(await csv('revenue.csv')).toEqual([]);
    await api.get(`${of}/revenue?monday=2026-03-03`).expect(400);
  });

  test('estimates: nothing was measured, and it says so', async () => {
    const { body } = await api.get(`${of}/estimates`).expect(200);
    expect(body).toMatchObject({ kinds: [], recipes: [], people: [], all: null });
    expect(await csv('estimates.csv')).toEqual([]);
  });

  test('what-ifs: as a reply, as CSV and as a stream that tells how far it is, all the same answer', async () => {
    const { body } = await api.get(`${of}/what-ifs?months=2&seed=5`).expect(200);
    expect(body.terms).toEqual({ months: 2, seed: 5, demandPercent: 100 });
    expect(body.changes.map((each: { change: string }) => each.change)).toEqual(['bay', 'person', 'lamp', 'saturday']);
    const lines = await csv('what-ifs.csv?months=2&seed=5');
    expect(lines.map((line) => [line.change, Number(line.lateCarsChangeMedian)])).toEqual(
      body.changes.map((each: { change: string; lateCarsChange: { median: number } }) => [
        each.change,
        each.lateCarsChange.median,
      ]),
    );
    const told = await api.get(`${of}/what-ifs/events?months=1&seed=6`).expect(200);
    const events = told.text.trim().split('\n\n');
    expect(events.map((each) => each.split('\n')[0])).toEqual([
      ...Array.from({ length: 5 }, () => 'event: progress'),
      'event: answer',
    ]);
    expect(events[4]).toContain('{"planned":5,"of":5}');
    const again = await api.get(`${of}/what-ifs?months=1&seed=6`).expect(200);
    expect(JSON.parse(events[5]!.split('data: ')[1]!)).toEqual(again.body);
  });
});
