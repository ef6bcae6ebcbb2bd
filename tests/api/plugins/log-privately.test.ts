import type { FastifyBaseLogger } from 'fastify';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { networkOf } from '../../../src/api/plugins/log-privately.ts';
import { privateLog } from '../../../src/private-log.ts';
import { booking, key, type Opened, openShop, shop } from '../a-shop.ts';

/** All of it is invented. */
const person = {
  name: 'Quirina Invented-Zobel',
  phone: '+00 555 0142',
  email: 'quirina@example.invalid',
  registration: 'QZ 77-XY',
};
const secrets = [...Object.values(person), 'quirina', 'QZ77XY', '555 0142', 'violin', 'secret-of-a-token'];
const at = `/v1/shops/${shop.id}`;
const request = {
  ...booking,
  customer: { name: person.name, phone: person.phone, email: person.email },
  vehicle: { ...booking.vehicle, registration: person.registration },
  notes: 'violin on the back seat',
};

const lines: string[] = [];
const logged = () => lines.splice(0).join('');
const logger = privateLog('trace', { write: (line: string) => void lines.push(line) });
let opened: Opened;
let api: ReturnType<typeof supertest>;
beforeAll(async () => {
  const failing = async () => {
    // What a careless programme and a careless database might say.
    const words = `no place for ${person.name} (${person.registration}), call ${person.phone} or ${person.email}`;
    throw new TypeError(words, {
      cause: Object.assign(new Error(`Key (email)=(${person.email}) exists: ${person.name}`), { code: '23505' }),
    });
  };
  opened = await openShop({
    api: { logger: logger as unknown as FastifyBaseLogger },
    planner: { plan: failing, close: async () => {} },
  });
  api = supertest(opened.app.server);
});
afterAll(() => opened.close());

function expectNothingPersonal(text: string) {
  for (const secret of secrets) expect(text.toLowerCase()).not.toContain(secret.toLowerCase());
}

describe('the log', () => {
  test('of a request that fails on our side says what kind of error it was and where, and nothing of the customer', async () => {
    const failed = await api.post(`${at}/quotes`).send(request);
    expect(failed.status, failed.text).toBe(500);
    const text = logged();
    expectNothingPersonal(text);
    const failure = JSON.parse(text.split('\n').find((line) => line.includes('request failed'))!);
    expect(failure.err.type).toBe('TypeError');
    expect(failure.err.message).toMatch(/^no place for /);
    expect(failure.err.stack).toMatch(/^ +at .*log-privately\.test\.ts/);
    expect(failure.err.cause).toMatchObject({ code: '23505', message: '(of the database; see the code)' });
    expect(failure.reqId).toBe(failed.headers['x-request-id']);
  });

  test('of a search, a refused body, an unknown address and a token in the address holds none of them', async () => {
    await api.get(`${at}/jobs?search=${encodeURIComponent(person.name)}`).expect(200);
    await api
      .post(`${at}/quotes`)
      .send({ ...request, customer: person.name })
      .expect(400);
    await api.post(`${at}/quotes`).set('content-type', 'application/json').send(`{"name": ${person.name}}`).expect(400);
    await api.get(`${at}/customers/${encodeURIComponent(person.name)}`).expect(404);
    await api.get(`${at}/jobs/${encodeURIComponent(person.registration)}`).expect(400);
    await api.get(`${at}/jobs/QZ77XY`).expect(404);
    await api.get(`${at}/calendars/places/bay-1.ics?token=secret-of-a-token`).expect(200);
    await api.post(`${at}/jobs`).set(key()).send({ request, dropOffAt: 'never' }).expect(400);
    const text = logged();
    expectNothingPersonal(text);
    // It does say what was asked for, by the route's pattern, and what became of it.
    expect(text).toContain(`"url":"${at}/jobs"`);
    expect(text).toContain(`"url":"${at}/jobs/:jobId"`);
    expect(text).toContain('"url":"[unknown]"');
    expect(text).toContain('"statusCode":404');
  });

  test('names a booking by the identifier the server made, and a caller by the network alone', async () => {
    const id = '0f8fad5b-d9cb-469f-a165-70867728950e';
    await api.get(`${at}/jobs/${id}`).expect(404);
    const text = logged();
    expect(text).toContain(`"url":"${at}/jobs/${id}"`);
    expect(text).toContain('"network":"127.0.0.0/24"');
    expect(text).not.toContain('127.0.0.1');
    expect(networkOf('2001:db8:1:2::3')).toBe('2001:db8:1::/48');
    expect(networkOf('::ffff:198.51.100.7')).toBe('198.51.100.0/24');
  });

  test('takes personal fields out of whatever else is logged, and sentences out of violations', () => {
    logger.warn({ job: { customer: person, notes: 'violin' }, email: person.email }, 'careless');
    const car = `${person.name} stands in two places`;
    logger.error({ violations: [{ rule: 'one-place', text: car }] }, 'a plan broke a rule');
    logger.error({ err: new Error(`mail server: 550 <${person.email}> unknown, "${person.name}"`) }, 'not sent');
    const text = logged();
    expectNothingPersonal(text);
    expect(text).toContain('"violations":["one-place"]');
    expect(text).toContain('550 <[e-mail]> unknown');
  });
});
