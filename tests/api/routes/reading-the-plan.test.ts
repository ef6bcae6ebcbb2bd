import { parse } from 'csv-parse/sync';
import ICAL from 'ical.js';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { carName } from '../../../src/shop/jobs/job-view.ts';
import { car, plan, putPlannedCar } from '../a-planned-car.ts';
import { type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;

beforeAll(async () => {
  opened = await openShop();
  await putPlannedCar(opened.store);
  api = request(opened.app.server);
});
afterAll(() => opened.close());

describe('the plan', () => {
  test('is told whole, with instants in the zone of the shop', async () => {
    const reply = await api.get(`${of}/plan`).expect(200);
    expect(reply.headers.etag).toBe('"1"');
    expect(reply.body.operations).toHaveLength(plan.operations.length);
    expect(reply.body.operations[0]).toMatchObject({ operation: 'intake', start: '2026-03-02T10:00:00+01:00' });
    await api.get(`${of}/plan`).set('if-none-match', '"1"').expect(304);
  });

  test('its version is told apart, for a screen that only wants to know whether to look again', async () => {
    const reply = await api.get(`${of}/plan/version`).expect(200);
    expect(reply.body).toMatchObject({ version: 1, reason: 'test', interrupted: false });
    expect(reply.body.operations).toBeUndefined();
  });
});

describe('a job', () => {
  test('is told beside its part of the plan, with a tag of both', async () => {
    const reply = await api.get(`${of}/jobs/job-1`).expect(200);
    expect(reply.headers.etag).toBe('"1-1"');
    expect(reply.body.job.promise.pickupAt).toBe('2026-03-02T15:00:00+01:00');
    expect(reply.body.planned.readyAt).toBe('2026-03-02T12:30:00+01:00');
    await api.get(`${of}/jobs/none`).expect(404);
  });

  test('is found by day, state and words, and not by others', async () => {
    const found = async (query: string) => {
      const reply = await api.get(`${of}/jobs?${query}`).expect(200);
      return reply.body.items.map((line: { job: { id: string } }) => line.job.id);
    };
    expect(await found('')).toEqual([car.id]);
    expect(await found('day=2026-03-02')).toEqual([car.id]);
    expect(await found('day=2026-03-03')).toEqual([]);
    expect(await found('state=booked,inShop')).toEqual([car.id]);
    expect(await found('state=held')).toEqual([]);
    expect(await found('search=cora')).toEqual([car.id]);
    expect(await found('search=nobody')).toEqual([]);
  });
});

describe('the day on the wall', () => {
  test('has a row for each place and each person', async () => {
    const reply = await api.get(`${of}/timeline`).expect(200);
    expect(reply.body).toMatchObject({ date: '2026-03-02', from: '2026-03-02T00:00:00+01:00', planVersion: 1 });
    const bay = reply.body.places.find((row: { placeId: string }) => row.placeId === 'bay-1');
    expect(bay.stays).toMatchObject([{ jobId: 'job-1', from: '2026-03-02T10:00:00+01:00' }]);
    expect(reply.body.people.map((row: { name: string }) => row.name).sort()).toEqual(['Ada Invented', 'Bo Invented']);
  });

  test('can be asked for by place or by person, for another day', async () => {
    const byPlace = await api.get(`${of}/timeline?by=place&day=2026-03-03`).expect(200);
    expect(byPlace.body.people).toEqual([]);
    expect(byPlace.body.places.every((row: { stays: unknown[] }) => row.stays.length === 0)).toBe(true);
    const byPerson = await api.get(`${of}/timeline?by=person`).expect(200);
    expect(byPerson.body.places).toEqual([]);
    await api.get(`${of}/timeline?by=boat`).expect(400);
    await api.get(`${of}/timeline?day=2026-02-30`).expect(400);
  });

  test('is 23 hours long on the day the clocks go forward', async () => {
    // Central European summer time begins on the last Sunday of March at 01:00 UTC: 29 March 2026.
    const reply = await api.get(`${of}/timeline?day=2026-03-29`).expect(200);
    expect(reply.body.from).toBe('2026-03-29T00:00:00+01:00');
    expect(reply.body.to).toBe('2026-03-30T00:00:00+02:00');
    expect(Date.parse(reply.body.to) - Date.parse(reply.body.from)).toBe(23 * 3600_000);
  });
});

describe("a technician's queue", () => {
  test('holds the day in order, with cautions that defer to the safety data sheet', async () => {
    const reply = await api.get(`${of}/technicians/bo/queue`).expect(200);
    expect(reply.body.items.map((item: { operation: string }) => item.operation)).toEqual(['foam', 'contact', 'dry']);
    for (const item of reply.body.items) {
      expect(item.cautions.length).toBeGreaterThan(0);
      for (const caution of item.cautions) expect(caution.defersTo).toContain('safety data sheet');
    }
    await api.get(`${of}/technicians/nobody/queue`).expect(404);
    await api.get(`${of}/technicians/bo/queue?day=today`).expect(400);
  });
});

describe('promises', () => {
  test('are listed with their slack, and narrowed by day and state', async () => {
    const reply = await api.get(`${of}/promises`).expect(200);
    expect(reply.body.items).toMatchObject([
      { jobId: 'job-1', promisedPickupAt: '2026-03-02T15:00:00+01:00', slackMinutes: 150 },
    ]);
    expect((await api.get(`${of}/promises?day=2026-03-03`).expect(200)).body.items).toEqual([]);
    const atRisk = await api.get(`${of}/promises?state=atRisk`).expect(200);
    expect(atRisk.body.items.every((line: { atRisk: boolean }) => line.atRisk)).toBe(true);
    await api.get(`${of}/promises?state=lost`).expect(400);
  });
});

describe('calendars (RFC 5545, read by another library)', () => {
  async function calendar(path: string) {
    const reply = await api.get(`${of}/calendars/${path}`).expect(200);
    expect(reply.headers['content-type']).toBe('text/calendar; charset=utf-8');
    expect(reply.text).toMatch(/^BEGIN:VCALENDAR\r\n[\s\S]*END:VCALENDAR\r\n$/);
    for (const line of reply.text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    const component = new ICAL.Component(ICAL.parse(reply.text));
    expect(component.getFirstPropertyValue('version')).toBe('2.0');
    expect(component.getFirstPropertyValue('prodid')).toContain('Panelday');
    return component.getAllSubcomponents('vevent').map((event) => {
      for (const needed of ['uid', 'dtstamp', 'dtstart']) expect(event.getFirstProperty(needed), needed).not.toBeNull();
      const read = new ICAL.Event(event);
      return {
        summary: read.summary,
        from: read.startDate.toJSDate().toISOString(),
        to: read.endDate.toJSDate().toISOString(),
        uid: read.uid,
      };
    });
  }

  test('of a bay: the car that stands in it', async () => {
    expect(await calendar('places/bay-1.ics')).toMatchObject([
      { summary: carName(car), from: '2026-03-02T09:00:00.000Z', to: '2026-03-02T14:30:00.000Z' },
    ]);
  });

  test('of a person: each piece of work, none twice', async () => {
    const work = await calendar('technicians/bo.ics');
    expect(work.map(({ from }) => from)).toEqual([
      '2026-03-02T09:20:00.000Z',
      '2026-03-02T09:50:00.000Z',
      '2026-03-02T10:50:00.000Z',
    ]);
    expect(new Set(work.map(({ uid }) => uid)).size).toBe(3);
  });

  test('of a job: drop-off and the pickup promised', async () => {
    const visit = await calendar('jobs/job-1.ics');
    expect(visit.map(({ summary, from }) => [summary.split(':')[0], from])).toEqual([
      ['Drop-off', '2026-03-02T09:00:00.000Z'],
      ['Pickup', '2026-03-02T14:00:00.000Z'],
    ]);
  });

  test('of nobody are 404', async () => {
    await api.get(`${of}/calendars/places/none.ics`).expect(404);
    await api.get(`${of}/calendars/technicians/none.ics`).expect(404);
    await api.get(`${of}/calendars/jobs/none.ics`).expect(404);
    await api.get(`${of}/calendars/places/bay-1`).expect(404);
  });
});

describe("the week's hours", () => {
  test('add up for every bay and person, in JSON and in CSV', async () => {
    const { body } = await api.get(`${of}/utilisation?monday=2026-03-02`).expect(200);
    for (const bay of body.bays) {
      expect(bay.worked + bay.curing + bay.waiting + bay.blocked + bay.empty).toBe(bay.open);
    }
    for (const person of body.people) expect(person.worked + person.watched + person.free).toBe(person.open);
    const csv = await api.get(`${of}/utilisation/bays.csv?monday=2026-03-02`).expect(200);
    expect(csv.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(csv.headers['content-disposition']).toBe('attachment; filename="bays-2026-03-02.csv"');
    const rows: Record<string, string>[] = parse(csv.text, { columns: true });
    expect(rows.map((row) => [row.name, Number(row.worked)])).toEqual(
      body.bays.map((bay: { name: string; worked: number }) => [bay.name, bay.worked]),
    );
    const people = await api.get(`${of}/utilisation/people.csv?monday=2026-03-02`).expect(200);
    expect(parse(people.text, { columns: true })).toHaveLength(2);
  });

  test('are this week when no Monday is named, and only a Monday begins a week', async () => {
    expect((await api.get(`${of}/utilisation`).expect(200)).body.monday).toBe('2026-03-02');
    const reply = await api.get(`${of}/utilisation?monday=2026-03-03`).expect(400);
    expect(reply.body.errors).toMatchObject([{ in: 'query', field: '/monday' }]);
    await api.get(`${of}/utilisation/bays.csv?monday=soon`).expect(400);
    await api.get(`${of}/utilisation/people.csv?monday=soon`).expect(400);
  });
});
