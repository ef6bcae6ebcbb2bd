import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { linkTokens } from '../../../src/shop/customer/link-tokens.ts';
import type { Mail } from '../../../src/shop/messages/mailer.ts';
import { remind } from '../../../src/shop/messages/remind.ts';
import { sendDue } from '../../../src/shop/messages/send-due.ts';
import { tell } from '../../../src/shop/records/tell.ts';
import type { MessageKind } from '../../../src/trade/model/customer-message.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import { Plan } from '../../../src/trade/model/plan.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aJob } from '../a-job.ts';
import { key, monday9, type Opened, openShop, shop } from '../a-shop.ts';

const HOUR = 3_600_000;
/** Whether a comma follows the weekday is the Unicode CLDR's affair, and has changed. */
const plain = (text: string) => text.replaceAll(/([a-z]day), /g, '$1 ');
const mails: Mail[] = [];
const customers = {
  tokens: linkTokens('a key for this test that is long enough'),
  publicUrl: () => 'https://wash.invalid',
  mailer: {
    longestMs: 60_000,
    send: async (mail: Mail) => {
      mails.push(mail);
      return { kind: 'accepted' as const };
    },
  },
};
let opened: Opened;
let api: ReturnType<typeof request>;
beforeAll(async () => {
  opened = await openShop({ api: { customers } });
  api = request(opened.app.server);
});
afterAll(() => opened.close());

const of = (job: Job) => `/v1/shops/${shop.id}/jobs/${job.id}/messages`;
const kindsQueued = async (job: Job) =>
  (await opened.store.messages.listByJob(shop.id, job.id)).map((each) => each.kind).sort();
const sendAll = () => sendDue({ ...opened.deps, ...customers }, { shopId: shop.id });

function mailsByItself(...automaticMessages: MessageKind[]) {
  const toCustomers = { locale: 'en-GB', phone: '', address: '', automaticMessages, reminderHours: 24 };
  return opened.store.shops.put({ ...shop, toCustomers }, 'any');
}

async function changed(job: Job, change: Partial<Job>, body: Record<string, unknown> = {}): Promise<Job> {
  return opened.store.transaction(shop.id, async (records) => {
    const { value } = await records.jobs.put(shop.id, { ...job, ...change }, 'any');
    await tell(records, shop.id, opened.deps.clock(), 'job.changed', job.id, { state: value.state, ...body });
    return value;
  });
}

describe('texts for the customer', () => {
  test('are ready to copy, each with the link, the shop’s times and its money', async () => {
    const job = await aJob(opened.store);
    const { body } = await api.get(of(job)).expect(200);
    expect(body.mail).toEqual({ on: true, reason: '' });
    expect(body.items.map((each: { kind: string }) => each.kind)).toEqual([
      'booked',
      'reminder',
      'scope',
      'timesChanged',
      'ready',
      'aftercare',
    ]);
    for (const { text, subject } of body.items) {
      expect(text).toContain(body.link.url);
      expect(text).toContain('Hello Cora Invented,');
      expect(text).toContain('Invented Wash House');
      expect(text).not.toMatch(/undefined|null|NaN|\n\n\n/);
      expect(subject).not.toContain('\n');
    }
    const [booked] = body.items;
    expect(booked).toMatchObject({ applies: true, state: 'notSent' });
    expect(plain(booked.text)).toContain('Please bring it: Tuesday 3 March 2026 at 09:00.');
    expect(plain(booked.text)).toContain('Ready for pickup: Tuesday 3 March 2026 at 14:00, until 17:00.');
    expect(booked.text).toContain('Price: €120.00.');
  });

  test('say which apply as things stand', async () => {
    const applying = async (job: Job) =>
      (await api.get(of(job)).expect(200)).body.items
        .filter((each: { applies: boolean }) => each.applies)
        .map((each: { kind: string }) => each.kind);
    const job = await aJob(opened.store);
    expect(await applying(job)).toEqual(['booked', 'reminder']);
    expect(await applying(await aJob(opened.store, { state: 'cancelled' }))).toEqual([]);
    const scope = {
      correctionPasses: 3,
      answer: 'awaited' as const,
      answerBy: (monday9 + HOUR) as Instant,
      priceMinor: 20_000,
    };
    expect(await applying(await aJob(opened.store, { state: 'inShop', scope }))).toEqual(['scope']);
  });

  test('are mailed when somebody says so, once, and again only on purpose', async () => {
    const job = await aJob(opened.store);
    const send = (kind: string, body: object = {}) =>
      api
        .post(`${of(job)}/${kind}/send`)
        .set(key())
        .send(body);
    const queued = await send('booked').expect(202);
    expect(queued.body).toMatchObject({ kind: 'booked', state: 'queued' });
    expect(queued.body.text).toBeUndefined();
    expect((await send('booked').expect(409)).body.detail).toContain('on its way');
    mails.length = 0;
    await sendAll();
    await sendAll();
    expect(mails.map((mail) => mail.to)).toEqual(['cora@example.invalid']);
    const { body } = await api.get(of(job)).expect(200);
    expect(body.items[0]).toMatchObject({ state: 'sent', attempts: 1, fault: '' });
    expect(mails[0]?.text).toBe(body.items[0].text);
    await send('booked').expect(409);
    await send('booked', { again: true }).expect(202);
    await sendAll();
    expect(mails).toHaveLength(2);
    expect((await send('ready').expect(409)).body.type).toBe('/problems/wrong-state');
    await send('greeting').expect(400);
  });

  test('a customer without an address is told another way, and the reason is said', async () => {
    const job = await aJob(opened.store, { customer: { name: 'Dan Invented', phone: '000', email: '' } });
    expect((await api.get(of(job)).expect(200)).body.mail).toMatchObject({ on: false });
    const reply = await api
      .post(`${of(job)}/booked/send`)
      .set(key())
      .send({})
      .expect(422);
    expect(reply.body.detail).toContain('no e-mail address');
  });
});

describe('what is mailed by itself', () => {
  test('is nothing, unless the shop says so', async () => {
    await mailsByItself();
    const job = await aJob(opened.store);
    await changed(job, {});
    expect(await kindsQueued(job)).toEqual([]);
  });

  test('is queued with what it tells, once: booking, other times, question, aftercare', async () => {
    await mailsByItself('booked', 'timesChanged', 'scope', 'aftercare');
    const job = await aJob(opened.store);
    await changed(job, {});
    await changed(job, { notes: 'a word' });
    expect(await kindsQueued(job)).toEqual(['booked']);
    const promise = { ...job.promise!, pickupAt: (job.promise!.pickupAt + HOUR) as Instant };
    await changed(job, { promise });
    await changed(job, { promise, notes: 'another word' });
    expect(await kindsQueued(job)).toEqual(['booked', 'timesChanged']);
    const scope = {
      correctionPasses: 3,
      answer: 'awaited' as const,
      answerBy: (monday9 + HOUR) as Instant,
      priceMinor: 20_000,
    };
    await changed(job, { promise, state: 'inShop', scope });
    await changed(job, { promise, state: 'done' });
    expect(await kindsQueued(job)).toEqual(['aftercare', 'booked', 'scope', 'timesChanged']);
    mails.length = 0;
    await sendAll();
    // Booking, times and question are over by now: only what still holds is said.
    expect(mails.filter((mail) => mail.text.includes('Thank you for bringing'))).toHaveLength(1);
    expect(mails).toHaveLength(1);
  });

  test('is queued for nobody without an address, and not for cars out of an old diary', async () => {
    await mailsByItself('booked');
    const silent = await aJob(opened.store, { customer: { name: 'Dan Invented', phone: '', email: '' } });
    await changed(silent, {});
    expect(await kindsQueued(silent)).toEqual([]);
    const old = await aJob(opened.store);
    await changed(old, {}, { imported: true });
    expect(await kindsQueued(old)).toEqual([]);
    expect(await opened.store.toldTimes.list(shop.id, old.id)).toHaveLength(1);
  });

  test('a car is told to be ready by the plan after which nothing is left but the handover, once', async () => {
    await mailsByItself('ready');
    const job = await aJob(opened.store, { state: 'inShop' });
    const operation = (key: string, kind: string, from: number, state: string) => ({
      jobId: job.id,
      operation: key,
      kind,
      label: key,
      start: monday9 + from * HOUR,
      end: monday9 + (from + 1) * HOUR,
      pieces: [{ from: monday9 + from * HOUR, to: monday9 + (from + 1) * HOUR }],
      placeId: 'bay-1',
      people: ['ada'],
      sharePercent: 100,
      state,
      remedy: false,
      windowClosesAt: null,
    });
    const published = async (version: number, ...states: ['underWay' | 'finished']) => {
      const plan = Plan.parse({
        version,
        madeAt: monday9,
        reason: 'test',
        objective: [],
        seed: 1,
        interrupted: false,
        operations: [
          operation('final', 'finalInspection', -1, states[0]),
          operation('handover', 'handover', 1, 'planned'),
        ],
        stays: [{ jobId: job.id, placeId: 'bay-1', from: monday9 - HOUR, to: monday9 + 2 * HOUR }],
        jobs: [
          {
            jobId: job.id,
            dropOffAt: monday9 - HOUR,
            readyAt: monday9 + HOUR,
            pickupAt: monday9 + 2 * HOUR,
            lateMinutes: 0,
          },
        ],
      });
      await opened.store.transaction(shop.id, async (records) => {
        await records.plans.publish({
          shopId: shop.id,
          expectedVersion: version - 1,
          plan,
          occupancy: [],
          now: monday9,
        });
        await tell(records, shop.id, monday9, 'plan.published', String(version));
      });
    };
    await published(1, 'underWay');
    expect(await kindsQueued(job)).toEqual([]);
    await published(2, 'finished');
    await published(3, 'finished');
    expect(await kindsQueued(job)).toEqual(['ready']);
    mails.length = 0;
    await sendAll();
    expect(mails.map((mail) => mail.text)).toEqual([expect.stringContaining('is ready.')]);
  });

  test('reminds once for each hour told, not of what was booked a moment ago', async () => {
    await mailsByItself('reminder');
    const dropOffAt = (monday9 + 20 * HOUR) as Instant;
    const early = await aJob(opened.store, { dropOffAt, createdAt: (monday9 - 72 * HOUR) as Instant });
    const fresh = await aJob(opened.store, { dropOffAt, createdAt: monday9 });
    const far = await aJob(opened.store, {
      dropOffAt: (monday9 + 30 * HOUR) as Instant,
      createdAt: (monday9 - 72 * HOUR) as Instant,
    });
    await remind(opened.deps, { shopId: shop.id });
    await remind(opened.deps, { shopId: shop.id });
    expect(await kindsQueued(early)).toEqual(['reminder']);
    expect(await kindsQueued(fresh)).toEqual([]);
    expect(await kindsQueued(far)).toEqual([]);
    const moved = { ...early, dropOffAt: (dropOffAt - 2 * HOUR) as Instant };
    await opened.store.jobs.put(shop.id, moved, 'any');
    await remind(opened.deps, { shopId: shop.id });
    expect(await kindsQueued(early)).toEqual(['reminder', 'reminder']);
    await mailsByItself();
  });
});

test('with e-mail off every text can still be copied, and sending says why not', async () => {
  const off = await openShop();
  try {
    const job = await aJob(off.store);
    const web = request(off.app.server);
    const { body } = await web.get(of(job)).expect(200);
    expect(body.mail).toMatchObject({ on: false, reason: expect.stringContaining('SMTP_URL') });
    expect(body.items[0].text).toContain(body.link.url);
    await web
      .post(`${of(job)}/booked/send`)
      .set(key())
      .send({})
      .expect(422);
  } finally {
    await off.close();
  }
});
