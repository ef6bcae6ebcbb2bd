import { expect, it } from 'vitest';
import type { CustomerDeps } from '../../src/shop/customer/deps.ts';
import { linkTokens } from '../../src/shop/customer/link-tokens.ts';
import type { Delivery, Mail, Mailer } from '../../src/shop/messages/mailer.ts';
import { sendDue } from '../../src/shop/messages/send-due.ts';
import { sendMessage } from '../../src/shop/messages/send-message.ts';
import type { Store } from '../../src/store/store.ts';
import type { ShopId } from '../../src/trade/model/ids.ts';
import type { Instant } from '../../src/trade/model/time.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aJob, at, HOUR, jobId, stockedShop } from './samples.ts';

const MINUTE = HOUR / 60;
const NOW = at(8);

/** Answers each message as it is told to, and keeps what it was given. */
function scripted(answers: (Delivery | 'never')[] = []): Mailer & { readonly mails: Mail[] } {
  const mails: Mail[] = [];
  return {
    mails,
    longestMs: MINUTE,
    async send(mail) {
      mails.push(mail);
      const answer = answers.shift() ?? { kind: 'accepted' };
      return answer === 'never' ? new Promise(() => {}) : answer;
    },
  };
}

let ids = 0;
function server(store: Store, mailer: Mailer, clock: { now: number }): CustomerDeps {
  return {
    store,
    mailer,
    tokens: linkTokens('a key for this test that is long enough'),
    publicUrl: () => 'https://wash.invalid',
    clock: () => clock.now as Instant,
    newId: () => `claim-${++ids}`,
    log: { info() {}, warn() {}, error() {} },
  };
}

const booked = (id: string) =>
  aJob(id, {
    state: 'booked',
    dropOffAt: at(48),
    customer: { name: 'Cora Invented', phone: '', email: `${id}@example.invalid` },
  });

async function shopWith(store: Store, ...jobs: string[]): Promise<ShopId> {
  const shopId = await stockedShop(store);
  for (const id of jobs) await store.jobs.put(shopId, booked(id), 'new');
  return shopId;
}

const queued = (id: string, occasion = '1') => ({
  jobId: jobId(id),
  kind: 'booked' as const,
  occasion,
  queuedAt: NOW,
  dueAt: NOW,
});

onEachDatabase('the queue of messages', (given) => {
  it('holds the same message once, whoever queues it', async () => {
    const { store, another } = given();
    const shopId = await shopWith(store, 'once');
    const other = await another();
    const queuing = Array.from({ length: 10 }, (_, n) =>
      (n % 2 ? store : other).messages.queue(shopId, queued('once')),
    );
    expect((await Promise.all(queuing)).filter(Boolean)).toHaveLength(1);
    expect(await store.messages.listByJob(shopId, jobId('once'))).toHaveLength(1);
  });

  it('is written with what the message tells, or not at all', async () => {
    const { store } = given();
    const shopId = await shopWith(store, 'undone');
    const failing = store.transaction(shopId, async (records) => {
      await records.messages.queue(shopId, queued('undone'));
      throw new Error('no');
    });
    await expect(failing).rejects.toThrow('no');
    expect(await store.messages.listByJob(shopId, jobId('undone'))).toEqual([]);
  });

  it('gives a message to one of those who claim it at once', async () => {
    const { store, another } = given();
    const shopId = await shopWith(store, 'claimed');
    const other = await another();
    await store.messages.queue(shopId, queued('claimed'));
    const claims = Array.from({ length: 10 }, (_, n) =>
      (n % 2 ? store : other).messages.claim(shopId, queued('claimed'), `claim-of-${n}`, NOW),
    );
    expect((await Promise.all(claims)).filter(Boolean)).toHaveLength(1);
  });

  it('believes only whoever holds the claim', async () => {
    const { store } = given();
    const shopId = await shopWith(store, 'held');
    await store.messages.queue(shopId, queued('held'));
    await store.messages.claim(shopId, queued('held'), 'mine', NOW);
    const sent = { state: 'sent', at: NOW, fault: '' } as const;
    expect(await store.messages.settle(shopId, queued('held'), 'another', sent)).toBe(false);
    expect(await store.messages.settle(shopId, queued('held'), 'mine', sent)).toBe(true);
    expect(await store.messages.settle(shopId, queued('held'), 'mine', sent)).toBe(false);
    expect(await store.messages.get(shopId, queued('held'))).toMatchObject({ state: 'sent', attempts: 1 });
  });

  it('goes when its job goes', async () => {
    const { store } = given();
    const shopId = await shopWith(store, 'gone');
    await store.messages.queue(shopId, queued('gone'));
    await store.jobs.delete(shopId, jobId('gone'), 'any');
    expect(await store.messages.listByJob(shopId, jobId('gone'))).toEqual([]);
  });
});

onEachDatabase('two servers that send', (given) => {
  it('send each of thirty messages once between them', async () => {
    const { store, another } = given();
    const names = Array.from({ length: 30 }, (_, n) => `many-${n}`);
    const shopId = await shopWith(store, ...names);
    for (const name of names) await store.messages.queue(shopId, queued(name));
    const mailer = scripted();
    const clock: { now: number } = { now: NOW };
    const servers = [server(store, mailer, clock), server(await another(), mailer, clock)];
    const sent = await Promise.all(servers.map((each) => sendDue(each, { shopId })));
    expect(sent[0]! + sent[1]!).toBe(30);
    expect(mailer.mails.map((mail) => mail.to).sort()).toEqual(names.map((name) => `${name}@example.invalid`).sort());
    expect(new Set(mailer.mails.map((mail) => mail.messageId)).size).toBe(30);
  });

  it('do not send again what one had in hand when it died; the desk is told', async () => {
    const { store, another } = given();
    const shopId = await shopWith(store, 'lost');
    await store.messages.queue(shopId, queued('lost'));
    const clock: { now: number } = { now: NOW };
    const dying = scripted(['never']);
    void sendDue(server(store, dying, clock), { shopId });
    await expect.poll(() => dying.mails.length).toBe(1);
    const mailer = scripted();
    const survivor = server(await another(), mailer, clock);
    clock.now += MINUTE;
    await sendDue(survivor, { shopId });
    expect(await store.messages.get(shopId, queued('lost'))).toMatchObject({ state: 'sending' });
    clock.now += 2 * MINUTE;
    await sendDue(survivor, { shopId });
    await sendDue(survivor, { shopId });
    expect(mailer.mails).toEqual([]);
    expect(await store.messages.get(shopId, queued('lost'))).toMatchObject({ state: 'unknown', attempts: 1 });
    const told = (await store.deskExceptions.list(shopId)).map((each) => each.value);
    expect(told).toMatchObject([
      { kind: 'messageNotSent', jobId: 'lost', text: expect.stringContaining('may or may not') },
    ]);
    // Sent again only when a person says so, and then once, as a message of its own.
    const ask = { shopId, jobId: jobId('lost'), kind: 'booked' as const };
    await expect(sendMessage(survivor, { ...ask, again: false })).rejects.toThrow('sent already');
    await sendMessage(survivor, { ...ask, again: true });
    await sendDue(survivor, { shopId });
    await sendDue(survivor, { shopId });
    expect(mailer.mails).toHaveLength(1);
    expect(mailer.mails[0]?.messageId).not.toBe(dying.mails[0]?.messageId);
  });
});

onEachDatabase('sending', (given) => {
  const sending = async (answers: (Delivery | 'never')[], ...names: string[]) => {
    const { store } = given();
    const shopId = await shopWith(store, ...names);
    for (const name of names) await store.messages.queue(shopId, queued(name));
    const mailer = scripted(answers);
    const clock: { now: number } = { now: NOW };
    return { store, shopId, mailer, clock, deps: server(store, mailer, clock) };
  };

  it('is tried again after one, two, four minutes, as the same message, and once it is sent no more', async () => {
    const later: Delivery = { kind: 'later', reason: '450 busy' };
    const { shopId, mailer, clock, deps, store } = await sending([later, later, later], 'retried');
    const triedAfter: number[] = [];
    for (let minute = 0; minute <= 30; minute++) {
      clock.now = NOW + minute * MINUTE;
      const before = mailer.mails.length;
      await sendDue(deps, { shopId });
      if (mailer.mails.length > before) triedAfter.push(minute);
    }
    expect(triedAfter).toEqual([0, 1, 3, 7]);
    expect(new Set(mailer.mails.map((mail) => mail.messageId)).size).toBe(1);
    expect(await store.messages.get(shopId, queued('retried'))).toMatchObject({ state: 'sent', attempts: 4 });
    expect(await store.deskExceptions.list(shopId)).toEqual([]);
  });

  it('ends after eight attempts, and the desk is told once', async () => {
    const later: Delivery = { kind: 'later', reason: 'nobody answers' };
    const { shopId, mailer, clock, deps, store } = await sending(Array(50).fill(later), 'hopeless');
    for (let minute = 0; minute <= 300; minute++) {
      clock.now = NOW + minute * MINUTE;
      await sendDue(deps, { shopId });
    }
    expect(mailer.mails).toHaveLength(8);
    expect(await store.messages.get(shopId, queued('hopeless'))).toMatchObject({
      state: 'failed',
      fault: 'nobody answers',
    });
    expect((await store.deskExceptions.list(shopId)).map((each) => each.value.kind)).toEqual(['messageNotSent']);
  }, 60_000);

  it('that is refused is not tried again; one nobody can tell of is neither', async () => {
    const { shopId, mailer, clock, deps, store } = await sending(
      [
        { kind: 'refused', reason: '550 no such person' },
        { kind: 'unknown', reason: 'Connection closed unexpectedly' },
      ],
      'refused',
      'unsure',
    );
    for (let minute = 0; minute <= 20; minute++) {
      clock.now = NOW + minute * MINUTE;
      await sendDue(deps, { shopId });
    }
    expect(mailer.mails).toHaveLength(2);
    expect(await store.messages.get(shopId, queued('refused'))).toMatchObject({ state: 'failed' });
    expect(await store.messages.get(shopId, queued('unsure'))).toMatchObject({ state: 'unknown' });
    expect(await store.deskExceptions.list(shopId)).toHaveLength(2);
  });

  it('says nothing that no longer holds: what was cancelled meanwhile is dropped', async () => {
    const { shopId, mailer, deps, store } = await sending([], 'cancelled');
    await store.jobs.put(shopId, { ...booked('cancelled'), state: 'cancelled' }, 'any');
    await sendDue(deps, { shopId });
    expect(mailer.mails).toEqual([]);
    expect(await store.messages.get(shopId, queued('cancelled'))).toMatchObject({ state: 'dropped' });
  });

  it('does not surprise anybody with what waited for more than a day', async () => {
    const { shopId, mailer, clock, deps, store } = await sending([], 'old');
    clock.now += 25 * HOUR;
    await sendDue(deps, { shopId });
    expect(mailer.mails).toEqual([]);
    expect(await store.messages.get(shopId, queued('old'))).toMatchObject({ state: 'failed' });
    expect(await store.deskExceptions.list(shopId)).toHaveLength(1);
  });

  it('is off without a mail server: what is queued stays queued', async () => {
    const { shopId, deps, store } = await sending([], 'waiting');
    expect(await sendDue({ ...deps, mailer: null }, { shopId })).toBe(0);
    expect(await store.messages.get(shopId, queued('waiting'))).toMatchObject({ state: 'queued', attempts: 0 });
  });

  it('carries the link to the customer’s page', async () => {
    const { shopId, mailer, deps, store } = await sending([], 'linked');
    await sendDue(deps, { shopId });
    const token = /https:\/\/wash\.invalid\/visit\/([\w-]{32})(?![\w-])/.exec(mailer.mails[0]?.text ?? '')?.[1];
    expect(token).toBeDefined();
    const link = await store.customerLinks.get(shopId, jobId('linked'));
    // Neither the token nor anything it can be made from without the key is kept.
    expect(JSON.stringify(link)).not.toContain(token);
    expect(deps.tokens.tokenOf(link!.seed)).toBe(token);
    expect(linkTokens('').tokenOf(link!.seed)).not.toBe(token);
  });
});
