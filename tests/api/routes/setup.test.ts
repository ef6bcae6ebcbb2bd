import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bay, coating, hose, lead, type Opened, openShop, shop, wash, yard, zone } from '../a-shop.ts';

let opened: Opened;
let api: ReturnType<typeof request>;
const of = `/v1/shops/${shop.id}`;

beforeAll(async () => {
  opened = await openShop();
  api = request(opened.app.server);
});
afterAll(() => opened.close());

describe('what a shop is set up with', () => {
  test('lists name what is there, a page at a time', async () => {
    const first = await api.get(`${of}/places?limit=1`).expect(200);
    expect(first.body.items).toEqual([bay]);
    const second = await api.get(`${of}/places`).query({ limit: 1, cursor: first.body.nextCursor }).expect(200);
    expect(second.body).toEqual({ items: [yard], nextCursor: null });
  });

  test('a thing is read with the tag of its version', async () => {
    const reply = await api.get(`${of}/air-zones/hall`).expect(200);
    expect(reply.headers.etag).toBe('"1"');
    expect(reply.body).toEqual(zone);
    await api.get(`${of}/air-zones/hall`).set('if-none-match', '"1"').expect(304);
  });

  test('a thing is made with If-None-Match, replaced with If-Match, and removed', async () => {
    const address = `${of}/technicians/cy`;
    const cy = { ...lead, id: 'cy', name: 'Cy Invented' };
    const made = await api.put(address).set('if-none-match', '*').send(cy).expect(201);
    expect(made.headers.etag).toBe('"1"');
    const changed = await api
      .put(address)
      .set('if-match', '"1"')
      .send({ ...cy, pacePercent: 80 })
      .expect(200);
    expect(changed.headers.etag).toBe('"2"');
    expect(changed.body.pacePercent).toBe(80);
    await api.delete(address).set('if-match', '"1"').expect(412);
    await api.delete(address).set('if-match', '"2"').expect(204);
    await api.get(address).expect(404);
  });

  test('each change asks for a plan and stands in the news', async () => {
    const before = await opened.store.outbox.lastSequence(shop.id);
    await api
      .put(`${of}/air-zones/spare`)
      .set('if-none-match', '*')
      .send({ ...zone, id: 'spare' })
      .expect(201);
    const news = await opened.store.outbox.listAfter(shop.id, before);
    expect(news.map(({ kind, subject }) => [kind, subject])).toEqual([['setup.changed', 'air-zones/spare']]);
    expect(opened.asked.at(-1)).toBe('air zone spare was changed');
  });

  test('a write without a condition is asked for one', async () => {
    const reply = await api.put(`${of}/places/bay-1`).send(bay).expect(428);
    expect(reply.body).toMatchObject({
      type: '/problems/precondition-required',
      errors: [{ in: 'header', field: '/if-match' }],
    });
    await api
      .put(`${of}/places/bay-9`)
      .send({ ...bay, id: 'bay-9' })
      .expect(428);
    await api.delete(`${of}/places/bay-1`).expect(428);
  });

  test('what exists is not made again, and what does not exist is not replaced', async () => {
    await api.put(`${of}/places/bay-1`).set('if-none-match', '*').send(bay).expect(412);
    await api
      .put(`${of}/places/bay-9`)
      .set('if-match', '"1"')
      .send({ ...bay, id: 'bay-9' })
      .expect(412);
  });

  test('every field that is wrong is named', async () => {
    const reply = await api
      .put(`${of}/places/bay-1`)
      .set('if-match', '"1"')
      .send({ ...bay, kind: 'cellar', maxLengthMm: 0, maxLenghtMm: 5 })
      .expect(400);
    expect(reply.headers['content-type']).toContain('application/problem+json');
    expect(reply.body.errors.map((error: { field: string }) => error.field).sort()).toEqual([
      '/kind',
      '/maxLenghtMm',
      '/maxLengthMm',
    ]);
  });

  test('the id in the body is the one in the address', async () => {
    const reply = await api.put(`${of}/places/bay-9`).set('if-none-match', '*').send(bay).expect(400);
    expect(reply.body.errors).toEqual([{ in: 'body', field: '/id', message: 'must be "bay-9", as in the address' }]);
  });

  test('a place in an air zone that is not there is refused, with the field', async () => {
    const reply = await api
      .put(`${of}/places/bay-9`)
      .set('if-none-match', '*')
      .send({ ...bay, id: 'bay-9', airZoneId: 'nowhere' })
      .expect(422);
    expect(reply.body).toMatchObject({ type: '/problems/refused', errors: [{ in: 'body', field: '/airZoneId' }] });
  });

  test('an air zone in which places stand is not removed', async () => {
    const reply = await api.delete(`${of}/air-zones/hall`).set('if-match', '"1"').expect(409);
    expect(reply.body.type).toBe('/problems/wrong-state');
  });

  test('a recipe whose lag names no step is refused, with the field', async () => {
    const lag = {
      from: { step: 'foam', edge: 'end' },
      to: { step: 'polish', edge: 'start' },
      min: { by: 'minutes', minutes: 0 },
      max: null,
      remedy: [],
      sameCrew: 'no',
    };
    const reply = await api
      .put(`${of}/recipes/odd`)
      .set('if-none-match', '*')
      .send({ ...wash, id: 'odd', lags: [lag] })
      .expect(422);
    expect(reply.body.errors).toEqual([expect.objectContaining({ in: 'body', field: '/lags/0/to/step' })]);
  });

  test('hours that overlap are refused in shops and shifts', async () => {
    const overlapping = {
      monday: [
        { from: '08:00', to: '12:00' },
        { from: '11:00', to: '17:00' },
      ],
    };
    const inShop = await api
      .put(of)
      .set('if-match', '*')
      .send({ ...shop, hours: overlapping })
      .expect(422);
    expect(inShop.body.errors[0]).toMatchObject({ field: '/hours/monday/1' });
    const inShift = await api
      .put(`${of}/technicians/ada`)
      .set('if-match', '"1"')
      .send({ ...lead, shifts: overlapping })
      .expect(422);
    expect(inShift.body.errors[0]).toMatchObject({ field: '/shifts/monday/1' });
  });

  test('all six kinds can be listed, read and asked for in vain', async () => {
    for (const kind of ['air-zones', 'places', 'technicians', 'equipment', 'coatings', 'recipes']) {
      const list = await api.get(`${of}/${kind}`).expect(200);
      for (const item of list.body.items) await api.get(`${of}/${kind}/${item.id}`).expect(200);
      await api.get(`${of}/${kind}/not-there`).expect(404);
      await api.get(`${of}/${kind}?colour=red`).expect(400);
      await api.get(`${of}/${kind}?cursor=bogus`).expect(400);
      await api.get(`${of}/${kind}?limit=0`).expect(400);
    }
  });
});

describe('each kind of thing', () => {
  const samples = {
    'air-zones': zone,
    places: bay,
    technicians: lead,
    equipment: hose,
    coatings: coating,
    recipes: wash,
  };

  test.each(Object.entries(samples))('of %s one is made, read, replaced and removed', async (kind, sample) => {
    const address = `${of}/${kind}/fresh`;
    const fresh = { ...sample, id: 'fresh', name: 'Fresh' };
    const made = await api.put(address).set('if-none-match', '*').send(fresh).expect(201);
    expect(made.body).toEqual(JSON.parse(JSON.stringify(fresh)));
    const read = await api.get(address).expect(200);
    expect(read.body).toEqual(made.body);
    const named = await api
      .put(address)
      .set('if-match', read.headers.etag as string)
      .send({ ...fresh, name: 'Renamed' })
      .expect(200);
    expect(named.body.name).toBe('Renamed');
    const nameless = await api
      .put(address)
      .set('if-match', '*')
      .send({ ...fresh, name: '' })
      .expect(400);
    expect(nameless.body.errors).toMatchObject([{ in: 'body', field: '/name' }]);
    await api.delete(address).set('if-match', '*').expect(204);
    await api.delete(address).set('if-match', '*').expect(404);
  });

  test('a data sheet that contradicts itself is refused', async () => {
    const [row] = coating.dataSheet.rows;
    const dataSheet = { ...coating.dataSheet, rows: [{ ...row, recoatMinMinutes: 300 }] };
    const reply = await api
      .put(`${of}/coatings/odd`)
      .set('if-none-match', '*')
      .send({ ...coating, id: 'odd', dataSheet })
      .expect(422);
    expect(reply.body.errors).toMatchObject([{ in: 'body', field: '/dataSheet/rows/0/recoatMinMinutes' }]);
  });
});

describe('the shop itself', () => {
  test('is listed, read and changed', async () => {
    const list = await api.get('/v1/shops').expect(200);
    expect(list.body.items.map((each: { id: string }) => each.id)).toEqual([shop.id]);
    const read = await api.get(of).expect(200);
    const changed = await api
      .put(of)
      .set('if-match', read.headers.etag as string)
      .send({ ...read.body, moveMinutes: 12 })
      .expect(200);
    expect(changed.body.moveMinutes).toBe(12);
    await api
      .put(of)
      .set('if-match', read.headers.etag as string)
      .send(read.body)
      .expect(412);
  });

  test('a second shop can be made, with a zone that exists', async () => {
    const other = { ...shop, id: 'second', timeZone: 'Atlantis/Sunken' };
    const refused = await api.put('/v1/shops/second').set('if-none-match', '*').send(other).expect(400);
    expect(refused.body.errors).toEqual([{ in: 'body', field: '/timeZone', message: 'not an IANA time zone' }]);
    await api
      .put('/v1/shops/second')
      .set('if-none-match', '*')
      .send({ ...other, timeZone: 'Asia/Kolkata' })
      .expect(201);
    await api.get('/v1/shops/second/places').expect(200);
  });

  test('a shop nobody knows is 404, whatever is asked of it', async () => {
    for (const path of ['', '/places', '/plan', '/jobs', '/timeline', '/events']) {
      const reply = await api.get(`/v1/shops/unknown${path}`).expect(404);
      expect(reply.body.type).toBe('/problems/not-found');
    }
  });
});
