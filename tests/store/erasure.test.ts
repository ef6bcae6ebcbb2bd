import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createInProcessPlanner } from '../../src/shop/planning/in-process-planner.ts';
import { migrate } from '../../src/store/migration/migrate.ts';
import type { JobId } from '../../src/trade/model/ids.ts';
import { minutesIn } from '../api/a-planned-car.ts';
import { booking, key, type Opened, openShop, shop } from '../api/a-shop.ts';
import { placesWith } from './every-text.ts';
import { type FreshDatabase, freshDatabase, isAvailable, PROVIDERS } from './fresh-database.ts';

/** What the person is known by; each is sought in every table. All of it is invented. */
const person = {
  name: 'Quirina Invented-Zobel',
  before: 'Quirina Oldname',
  email: 'quirina@example.invalid',
  phone: '+00 555 0142',
  registration: 'QZ 77-XY',
};
const traces = [...Object.values(person), 'qz77xy', 'violin', 'her sister'];
const at = `/v1/shops/${shop.id}`;
const picture = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);

for (const provider of PROVIDERS) {
  describe.skipIf(!isAvailable(provider))(`a customer who asks to be forgotten (${provider})`, () => {
    let database: FreshDatabase;
    let opened: Opened;
    let api: ReturnType<typeof supertest>;
    let jobId: JobId;
    let otherId: JobId;
    let facts = 0;

    const found = async () => {
      const all: Record<string, string[]> = {};
      for (const word of traces) all[word] = await placesWith(provider, database.databaseUrl, word);
      return all;
    };
    const post = (path: string, body: object) => api.post(`${at}${path}`).set(key()).send(body);
    const tell = async (id: string, minutes: number, fact: object) => {
      facts += 1;
      const occurredAt = new Date(minutesIn(minutes)).toISOString();
      const reply = await post(`/jobs/${id}/floor-events`, { clientId: `tablet-${1000 + facts}`, occurredAt, fact });
      expect(reply.status, JSON.stringify(reply.body)).toBe(201);
    };
    const erase = () => post(`/jobs/${jobId}/customer-data/erasure`, {});
    /** What the shop earned and did, and what is planned. */
    const figures = async () => {
      const read = async (path: string) => (await api.get(`${at}${path}`).expect(200)).body;
      const { version: _, ...planned } = (await api.get(`${at}/plan`)).body;
      return {
        planned: { ...planned, reason: '' },
        hours: await read('/utilisation?monday=2026-03-02'),
        revenue: await read('/utilisation/revenue?monday=2026-03-02'),
        estimates: await read('/utilisation/estimates?monday=2026-03-02'),
        promises: await read('/promises/calibration'),
        jobs: (await read('/jobs?limit=100')).items.map(({ job }: { job: Record<string, unknown> }) => [
          job.id,
          job.state,
          job.priceMinor,
          job.dropOffAt,
          job.promise,
          job.recipeId,
        ]),
        facts: (await read(`/jobs/${jobId}/floor-events`)).items.map(
          (event: { occurredAt: string; fact: { kind: string } }) => [event.occurredAt, event.fact.kind],
        ),
      };
    };

    beforeAll(async () => {
      database = await freshDatabase(provider);
      await migrate({ databaseUrl: database.databaseUrl });
      opened = await openShop({ databaseUrl: database.databaseUrl, planner: createInProcessPlanner(() => 0) });
      await opened.app.listen({ port: 0, host: '127.0.0.1' });
      api = supertest(opened.app.server);
      const { name: _, before, ...contact } = person;
      const hers = {
        ...booking,
        customer: { name: before, phone: contact.phone, email: contact.email },
        vehicle: { ...booking.vehicle, registration: contact.registration, description: 'the violin teacher’s car' },
        notes: 'her sister may fetch it',
      };
      const dropOffAt = '2026-03-02T10:00:00+01:00';
      const sold = await post('/jobs', { request: hers, dropOffAt, depositNote: 'paid by her sister' });
      expect(sold.status, JSON.stringify(sold.body)).toBe(201);
      jobId = sold.body.job.id;
      const others = {
        ...booking,
        customer: { name: 'Basil Invented', phone: '', email: 'basil@example.invalid' },
        vehicle: { ...booking.vehicle, registration: 'OTHER 2' },
        notes: `comes with ${person.registration}`,
        earliestDropOff: '2026-03-03T09:00:00+01:00',
      };
      const other = await post('/jobs', { request: others, dropOffAt: '2026-03-03T09:00:00+01:00' });
      expect(other.status, JSON.stringify(other.body)).toBe(201);
      otherId = other.body.job.id;
      const change = await api
        .patch(`${at}/jobs/${jobId}`)
        .set('if-match', '*')
        .send({ customer: { name: person.name, phone: contact.phone, email: contact.email } });
      expect(change.status, JSON.stringify(change.body)).toBe(200);
      await api.get(`${at}/jobs/${jobId}/messages`).expect(200);
      opened.setNow(minutesIn(62));
      await tell(jobId, 60, { kind: 'arrived', placeId: 'bay-1' });
      await tell(jobId, 61, { kind: 'noted', operation: null, text: 'violin on the back seat' });
      // Out of order, so that the desk is told with the car's name in it.
      await tell(jobId, 61, { kind: 'finished', operation: 'contact' });
      const kept = await api
        .post(`${at}/jobs/${jobId}/photos?clientId=tablet-photo-1&note=violin`)
        .set(key())
        .set('content-type', 'image/png')
        .send(picture);
      expect(kept.status, JSON.stringify(kept.body)).toBe(201);
      await opened.store.messages.queue(shop.id, {
        jobId,
        kind: 'ready',
        occasion: 'ready 1',
        queuedAt: minutesIn(62),
        dueAt: minutesIn(62),
      });
    });
    afterAll(async () => {
      await opened?.close();
      await database?.dispose();
    });

    test('is refused while the car is in the shop, and nothing is lost by it', async () => {
      const before = await found();
      const refused = await erase();
      expect([refused.status, refused.body.type]).toEqual([409, '/problems/wrong-state']);
      expect(refused.body.detail).toContain('in the shop');
      const { qz77xy: _, ...rest } = await found();
      expect(rest).toMatchObject(Object.fromEntries(Object.entries(before).filter(([word]) => word !== 'qz77xy')));
    });

    test('is handed everything that is kept, in one document, pictures included', async () => {
      const reply = await api.get(`${at}/jobs/${jobId}/customer-data`);
      expect(reply.status).toBe(200);
      const [mine, ...more] = reply.body.bookings;
      expect(more).toEqual([]);
      expect(mine.job.customer).toEqual({ name: person.name, phone: person.phone, email: person.email });
      expect(mine.job.vehicle.registration).toBe(person.registration);
      expect(mine.facts.map(({ fact }: { fact: { kind: string } }) => fact.kind)).toEqual([
        'arrived',
        'noted',
        'finished',
      ]);
      expect(Buffer.from(mine.photos[0].image, 'base64').equals(picture)).toBe(true);
      expect(mine.messages).toMatchObject([{ kind: 'ready', state: 'queued' }]);
      expect(mine.link).toMatchObject({ generation: 1, revokedAt: null });
      expect(mine.toldTimes.length).toBeGreaterThan(0);
      expect(mine.exceptions[0].text).toContain(person.registration);
      expect(JSON.stringify(mine.changes)).toContain(person.before);
      expect(JSON.stringify(reply.body)).not.toContain('basil');
    });

    test('goes from every table, and the shop’s plan and figures stay what they were', async () => {
      await tell(jobId, 62, { kind: 'pickedUp' });
      const there = await found();
      // Each of these was written somewhere, or seeking it would prove nothing.
      for (const word of traces) expect(there[word], word).not.toEqual([]);
      expect(there[person.registration]).toEqual(
        expect.arrayContaining(['AuditEntry.after', 'Job.document', 'OutboxEvent.body', 'PlanVersion.summary']),
      );
      expect(there[person.before]).toEqual(expect.arrayContaining(['RequestReply.body', 'AuditEntry.before']));
      const before = await figures();
      const reply = await erase();
      expect(reply.status, JSON.stringify(reply.body)).toBe(200);
      expect(reply.body).toMatchObject({ jobIds: [jobId], photos: 1, messages: 1, links: 1 });
      expect(await found()).toEqual(Object.fromEntries(traces.map((word) => [word, []])));
      expect(await figures()).toEqual(before);
    });

    test('is said in the trail of changes, without the person', async () => {
      const { body } = await api.get(`${at}/audit?kind=erasure`);
      expect(body.items).toMatchObject([{ who: 'account:test', subject: jobId }]);
      expect(JSON.parse(body.items[0].after).jobIds).toEqual([jobId]);
    });

    test('asked again, changes nothing more', async () => {
      const { body: before } = await api.get(`${at}/jobs/${jobId}`);
      const again = await erase();
      expect(again.status).toBe(200);
      expect(again.body).toMatchObject({ erasedAt: before.job.erasedAt, photos: 0, texts: 0 });
      expect((await api.get(`${at}/jobs/${jobId}`)).body).toEqual(before);
    });

    test('no reader is left with what this process remembered', async () => {
      const [job, events, planned] = await Promise.all(
        [`/jobs/${jobId}`, `/jobs/${jobId}/floor-events`, '/plan'].map((path) => api.get(`${at}${path}`)),
      );
      const remembered = await opened.store.floorEvents.listByJobs(shop.id, [jobId]);
      for (const text of [job!.text, events!.text, planned!.text, JSON.stringify(remembered)]) {
        for (const word of traces) expect(text).not.toContain(word);
      }
    });

    test('leaves other customers as they were, but for the notes that named the one who went', async () => {
      const { body } = await api.get(`${at}/jobs/${otherId}`);
      expect(body.job.customer).toEqual({ name: 'Basil Invented', phone: '', email: 'basil@example.invalid' });
      expect(body.job.vehicle.registration).toBe('OTHER 2');
      expect(body.job.notes).toBe('comes with […]');
    });
  });
}
