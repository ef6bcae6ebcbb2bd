import ICAL from 'ical.js';
import { pino } from 'pino';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { linkTokens } from '../../../src/shop/customer/link-tokens.ts';
import { tell } from '../../../src/shop/records/tell.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aJob } from '../a-job.ts';
import { key, lead, monday9, type Opened, openShop, shop } from '../a-shop.ts';

/** Whether a comma follows the weekday is the Unicode CLDR's affair, and has changed. */
const plain = (text: string) => text.replaceAll(/([a-z]day), /g, '$1 ');
const at = (text: string) => Date.parse(text) as Instant;
const logged: string[] = [];
let opened: Opened;
let api: ReturnType<typeof request>;

beforeAll(async () => {
  const logger = pino({ level: 'trace' }, { write: (line: string) => void logged.push(line) });
  opened = await openShop({
    api: {
      logger: logger as never,
      customers: {
        tokens: linkTokens('a key for this test that is long enough'),
        publicUrl: () => 'https://wash.invalid',
        mailer: null,
      },
    },
  });
  api = request(opened.app.server);
  await opened.store.shops.put(
    {
      ...shop,
      toCustomers: {
        locale: 'en-GB',
        phone: '000 0100 (invented)',
        address: 'Invented Lane 1',
        automaticMessages: [],
        reminderHours: 24,
      },
    },
    'any',
  );
});
afterAll(() => opened.close());

/** The address of a job's page, without the name of the server. */
async function pageOf(job: Job): Promise<string> {
  const messages = await api.get(`/v1/shops/${shop.id}/jobs/${job.id}/messages`).expect(200);
  const url = new URL(messages.body.link.url);
  expect(url.origin).toBe('https://wash.invalid');
  return url.pathname;
}

/** Writes a job and what is told of it, as the use cases do. */
async function changed(job: Job, change: Partial<Job>, when: Instant): Promise<Job> {
  return opened.store.transaction(shop.id, async (records) => {
    const { value } = await records.jobs.put(shop.id, { ...job, ...change }, 'any');
    await tell(records, shop.id, when, 'job.changed', job.id, { state: value.state });
    return value;
  });
}

const asked = (job: Job): Partial<Job> => ({
  state: 'inShop',
  scope: {
    correctionPasses: 3,
    answer: 'awaited',
    answerBy: (monday9 + 2 * 3_600_000) as Instant,
    priceMinor: job.priceMinor + 9_000,
    sparedPanels: ['leftFrontWing'],
  },
});

describe('the customer’s page', () => {
  test('tells drop-off, pickup, price and what is done, in the shop’s zone and words', async () => {
    const page = await pageOf(await aJob(opened.store));
    const { text } = await api.get(page).expect(200);
    expect(text).toContain('small hatchback TEST 1');
    expect(text).toContain('Booked');
    expect(plain(text)).toContain('Tuesday 3 March 2026 at 09:00');
    // Pickup is promised for 14:00; the shop closes at 17:00 that day.
    expect(plain(text)).toContain('from Tuesday 3 March 2026 at 14:00 until 17:00');
    expect(text).toContain('€120.00');
    expect(text).toContain('Invented Wash House');
    expect(plain(text)).toContain('000 0100');
    expect(text).not.toContain('inShop');
  });

  test('tells nothing of who works, of notes, of other cars, or of the customer', async () => {
    await aJob(opened.store, { vehicle: { ...(await aJob(opened.store)).vehicle, registration: 'OTHER 99' } });
    const page = await pageOf(await aJob(opened.store));
    const { text } = await api.get(page).expect(200);
    for (const secret of [lead.name, 'sticker', 'OTHER 99', 'Cora', 'cora@example.invalid', 'bay-1', 'Bay 1']) {
      expect(text, secret).not.toContain(secret);
    }
  });

  test('needs no script and no cookie, and is kept, listed and referred to by nobody', async () => {
    const reply = await api.get(await pageOf(await aJob(opened.store))).expect(200);
    expect(reply.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(reply.headers['cache-control']).toBe('no-store');
    expect(reply.headers['referrer-policy']).toBe('no-referrer');
    expect(reply.headers['x-robots-tag']).toBe('noindex, nofollow');
    expect(reply.headers['set-cookie']).toBeUndefined();
    expect(reply.text).not.toContain('<script');
    expect(reply.text).toContain('name="robots" content="noindex, nofollow"');
  });

  test('what it is filled with is text, never markup', async () => {
    const job = await aJob(opened.store);
    await changed(job, { vehicle: { ...job.vehicle, description: '<img src=x onerror=alert(1)>' } }, monday9);
    const { text } = await api.get(await pageOf(job)).expect(200);
    expect(text).not.toContain('<img');
    expect(text).toContain('&lt;img');
  });

  test('unchanged it is answered 304', async () => {
    const page = await pageOf(await aJob(opened.store));
    const first = await api.get(page).expect(200);
    await api.get(page).set('if-none-match', String(first.headers.etag)).expect(304);
  });

  test('says that the shop told other times, when, and what it was before', async () => {
    const job = await aJob(opened.store);
    const page = await pageOf(job);
    await changed(job, {}, monday9);
    expect((await api.get(page).expect(200)).text).not.toContain('new times');
    const promise = { ...job.promise!, pickupAt: at('2026-03-04T11:00:00+01:00') };
    await changed(job, { promise }, at('2026-03-02T16:20:00+01:00'));
    const { text } = await api.get(page).expect(200);
    expect(plain(text)).toContain('from Wednesday 4 March 2026 at 11:00');
    expect(plain(text)).toContain('We told you new times on Monday 2 March 2026 at 16:20.');
    expect(plain(text)).toContain('Pickup before: Tuesday 3 March 2026 at 14:00');
  });

  test('a change of words alone is no change of times', async () => {
    const job = await aJob(opened.store);
    await changed(job, {}, monday9);
    await changed(job, { notes: 'another note' }, at('2026-03-02T10:00:00+01:00'));
    expect(await opened.store.toldTimes.list(shop.id, job.id)).toHaveLength(1);
  });

  test('shows no pickup that is only planned and was never promised', async () => {
    const job = await aJob(opened.store, { promise: null });
    const page = await pageOf(job);
    const { text } = await api.get(page).expect(200);
    expect(text).toContain('We tell you the pickup hour as soon as we can promise it.');
    expect(text).not.toContain('14:00');
    const calendar = new ICAL.Component(ICAL.parse((await api.get(`${page}/calendar.ics`).expect(200)).text));
    expect(calendar.getAllSubcomponents('vevent')).toHaveLength(1);
  });

  test('a cancelled booking shows no times, and its calendar is empty', async () => {
    const job = await aJob(opened.store, { state: 'cancelled' });
    const page = await pageOf(job);
    const { text } = await api.get(page).expect(200);
    expect(text).toContain('The booking is cancelled');
    expect(text).not.toContain('14:00');
    const calendar = new ICAL.Component(ICAL.parse((await api.get(`${page}/calendar.ics`).expect(200)).text));
    expect(calendar.getAllSubcomponents('vevent')).toEqual([]);
  });

  test('three months after pickup it is closed', async () => {
    const job = await aJob(opened.store, { state: 'done' });
    const fetched = at('2026-03-02T08:00:00+01:00');
    await opened.store.floorEvents.append(shop.id, {
      jobId: job.id,
      clientId: `fetched-${job.id}`,
      occurredAt: fetched,
      recordedAt: fetched,
      fact: { kind: 'pickedUp' },
    });
    const page = await pageOf(job);
    expect((await api.get(page).expect(200)).text).toContain('Fetched. Thank you');
    opened.setNow((fetched + 91 * 86_400_000) as Instant);
    await api.get(page).expect(404);
    opened.setNow(monday9);
  });
});

describe('the customer’s calendar entry (RFC 5545, read by ical.js)', () => {
  test('holds drop-off and pickup as told, and counts up when they change', async () => {
    const job = await aJob(opened.store);
    const page = await pageOf(job);
    await changed(job, {}, monday9);
    const read = async () => {
      const reply = await api.get(`${page}/calendar.ics`).expect(200);
      expect(reply.headers['content-type']).toBe('text/calendar; charset=utf-8');
      return new ICAL.Component(ICAL.parse(reply.text))
        .getAllSubcomponents('vevent')
        .map((each) => new ICAL.Event(each));
    };
    const before = await read();
    expect(before.map((event) => event.startDate.toJSDate().toISOString())).toEqual([
      '2026-03-03T08:00:00.000Z',
      '2026-03-03T13:00:00.000Z',
    ]);
    expect(before[0]?.location).toBe('Invented Lane 1');
    const promise = { ...job.promise!, pickupAt: at('2026-03-04T11:00:00+01:00') };
    await changed(job, { promise }, at('2026-03-02T16:20:00+01:00'));
    const after = await read();
    expect(after.map((event) => event.uid)).toEqual(before.map((event) => event.uid));
    expect(after[1]?.startDate.toJSDate().toISOString()).toBe('2026-03-04T10:00:00.000Z');
    expect(after[1]!.sequence).toBeGreaterThan(before[1]!.sequence);
  });
});

describe('the question after the inspection', () => {
  const send = (page: string, answer: object) => api.post(`${page}/answer`).type('form').send(answer);

  test('is answered by a form, once; a reload shows the answer', async () => {
    const job = await aJob(opened.store);
    const { scope } = await changed(job, asked(job), monday9);
    const page = await pageOf(job);
    const { text } = await api.get(page).expect(200);
    expect(text).toContain('Yes, do more, for €210.00');
    expect(text).toContain('No, as booked, for €120.00');
    expect(plain(text)).toContain('Please answer by Monday 2 March 2026 at 11:00');
    expect(text).toContain('the paint is too thin there: left front wing');
    const yes = { answer: 'approved', answerBy: String(scope!.answerBy), priceMinor: String(scope!.priceMinor) };
    const reply = await send(page, yes).expect(303);
    expect(reply.headers.location).toBe(page);
    expect((await opened.store.jobs.get(shop.id, job.id))?.value.scope?.answer).toBe('approved');
    expect((await api.get(page).expect(200)).text).toContain('You said yes');
    const again = await send(page, { ...yes, answer: 'declined' }).expect(409);
    expect(again.text).toContain('settled already');
    expect((await opened.store.jobs.get(shop.id, job.id))?.value.scope?.answer).toBe('approved');
  });

  test('a browser that hides where it comes from may answer all the same: the link is what counts', async () => {
    const job = await aJob(opened.store);
    const { scope } = await changed(job, asked(job), monday9);
    const page = await pageOf(job);
    const no = { answer: 'declined', answerBy: String(scope!.answerBy), priceMinor: String(scope!.priceMinor) };
    await send(page, no).set('origin', 'null').expect(303);
    expect((await opened.store.jobs.get(shop.id, job.id))?.value.scope?.answer).toBe('declined');
  });

  test('is over at its deadline', async () => {
    const job = await aJob(opened.store);
    const { scope } = await changed(job, asked(job), monday9);
    const page = await pageOf(job);
    opened.setNow(scope!.answerBy);
    expect((await api.get(page).expect(200)).text).toContain('The time to answer is over');
    const late = { answer: 'approved', answerBy: String(scope!.answerBy), priceMinor: String(scope!.priceMinor) };
    await send(page, late).expect(409);
    opened.setNow(monday9);
    expect((await opened.store.jobs.get(shop.id, job.id))?.value.scope?.answer).toBe('awaited');
  });

  test('asked at another price meanwhile has to be read again', async () => {
    const job = await aJob(opened.store);
    const { scope } = await changed(job, asked(job), monday9);
    const page = await pageOf(job);
    const read = { answer: 'approved', answerBy: String(scope!.answerBy), priceMinor: String(scope!.priceMinor) };
    await changed(job, { ...asked(job), scope: { ...scope!, priceMinor: 99_900 } }, monday9);
    expect((await send(page, read).expect(409)).text).toContain('The question has changed');
    await send(page, { answer: 'maybe' }).expect(409);
    expect((await opened.store.jobs.get(shop.id, job.id))?.value.scope?.answer).toBe('awaited');
  });
});

describe('the link', () => {
  test('re-issued, the old one opens nothing; revoked, none does', async () => {
    const job = await aJob(opened.store);
    const link = `/v1/shops/${shop.id}/jobs/${job.id}/customer-link`;
    const first = await pageOf(job);
    const issued = await api.post(link).set(key()).expect(201);
    expect(issued.body).toMatchObject({ generation: 2 });
    expect(issued.body.url).toBeUndefined();
    const second = await pageOf(job);
    expect(second).not.toBe(first);
    const gone = await api.get(first).expect(404);
    expect(gone.text).toContain('This link opens nothing');
    await api.get(second).expect(200);
    await api.delete(link).expect(428);
    await api.delete(link).set('if-match', '"1"').expect(412);
    await api.delete(link).set('if-match', '"2"').expect(200);
    await api.get(second).expect(404);
    const messages = await api.get(`/v1/shops/${shop.id}/jobs/${job.id}/messages`).expect(200);
    expect(messages.body.link.url).toBeNull();
    expect(JSON.stringify(messages.body.items)).not.toContain('/visit/');
    await api.post(link).set(key()).expect(201);
    await api.get(await pageOf(job)).expect(200);
  });

  test('is written when the key has changed, by a new one', async () => {
    const job = await aJob(opened.store);
    const before = await pageOf(job);
    const { findLink, linkToShow } = await import('../../../src/shop/customer/customer-link.ts');
    const deps = { ...opened.deps, publicUrl: () => 'https://wash.invalid', mailer: null };
    const otherKey = { ...deps, tokens: linkTokens('another key that is long enough as well') };
    const of = { shopId: shop.id, jobId: job.id };
    expect((await findLink(otherKey, of)).url).toBeNull();
    expect((await linkToShow(otherKey, of)).url).not.toBeNull();
    await api.get(before).expect(404);
  });

  test('guessed is not found, and who guesses on and on is told to wait', async () => {
    const guess = (n: number) => `/visit/${String(n).padStart(32, 'x')}`;
    for (const odd of ['/visit/x', `/visit/${'x'.repeat(33)}`, '/visit/%00', `/visit/${'%2e'.repeat(32)}`]) {
      const reply = await api.get(odd);
      expect(reply.status, odd).toBe(404);
    }
    const statuses: number[] = [];
    for (let n = 0; n < 70; n++) statuses.push((await api.get(guess(n))).status);
    expect(new Set(statuses)).toEqual(new Set([404, 429]));
    const waiting = await api.get(guess(99)).expect(429);
    expect(waiting.text).toContain('Please wait');
    expect(waiting.headers['retry-after']).toBeDefined();
  });

  test('stands in no log, and neither does anything it opens', () => {
    const text = logged.join('');
    expect(text).toContain('/visit/:token');
    expect(text).not.toMatch(/\/visit\/[\w-]{32}/);
    expect(text).not.toContain('TEST 1');
  });
});
