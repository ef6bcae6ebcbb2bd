import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { key, type Opened, openShop, shop, zone } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const readings = `/v1/shops/${shop.id}/readings`;

beforeAll(async () => {
  opened = await openShop();
  await opened.store.airZones.put(shop.id, { ...zone, id: 'booth' as typeof zone.id }, 'new');
  api = request(opened.app.server);
});
afterAll(() => opened.close());

const measured = {
  airZoneId: 'hall',
  at: '2026-03-02T08:30:00+01:00',
  source: 'measured',
  airTempC: 19.5,
  relativeHumidityPercent: 48,
  panelTempC: 18,
  jobId: null,
};
const forecast = { ...measured, at: '2026-03-02T15:00:00+01:00', source: 'forecast', panelTempC: null };

describe('readings of air and panels', () => {
  test('are recorded together and told by day, oldest first, in parts', async () => {
    const booth = { ...measured, airZoneId: 'booth', at: '2026-03-02T08:45:00+01:00' };
    const sent = await api
      .post(readings)
      .set(key())
      .send({ readings: [forecast, measured, booth] })
      .expect(201);
    expect(sent.body).toEqual({ recorded: 3, against: [] });
    const day = await api.get(readings).expect(200);
    expect(day.body.items).toEqual([measured, booth, forecast]);
    const first = await api.get(`${readings}?day=2026-03-02&limit=2`).expect(200);
    expect(first.body.items).toEqual([measured, booth]);
    const rest = await api.get(readings).query({ limit: 2, cursor: first.body.nextCursor }).expect(200);
    expect(rest.body).toEqual({ items: [forecast], nextCursor: null });
  });

  test('are narrowed by zone, source and day', async () => {
    expect((await api.get(`${readings}?airZoneId=booth`).expect(200)).body.items).toHaveLength(1);
    expect((await api.get(`${readings}?source=forecast`).expect(200)).body.items).toEqual([forecast]);
    expect((await api.get(`${readings}?day=2026-03-03`).expect(200)).body.items).toEqual([]);
  });

  test('that cannot be are refused, with the figure', async () => {
    const bad = async (change: object, field: string) => {
      const reply = await api
        .post(readings)
        .set(key())
        .send({ readings: [{ ...measured, ...change }] })
        .expect(400);
      expect(reply.body.errors).toMatchObject([{ in: 'body', field }]);
    };
    await bad({ airTempC: 90 }, '/readings/0/airTempC');
    await bad({ relativeHumidityPercent: 101 }, '/readings/0/relativeHumidityPercent');
    await bad({ panelTempC: 'warm' }, '/readings/0/panelTempC');
    await bad({ at: '2026-03-02T08:30:00' }, '/readings/0/at');
    await bad({ at: '2026-03-02T12:00:00+01:00' }, '/readings/0/at');
    await bad({ source: 'guessed' }, '/readings/0/source');
    const none = await api.post(readings).set(key()).send({ readings: [] }).expect(400);
    expect(none.body.errors).toMatchObject([{ field: '/readings' }]);
  });

  test('are asked for by what there is', async () => {
    await api.get(`${readings}?day=yesterday`).expect(400);
    await api.get(`${readings}?source=guessed`).expect(400);
    await api.get(`${readings}?cursor=bogus`).expect(400);
    await api.get('/v1/shops/unknown/readings').expect(404);
  });
});
