import { createHash } from 'node:crypto';
import { isIP } from 'node:net';
import type { AttemptOutcome, Records } from '../../store/store.ts';
import type { QueuedMessage } from '../../trade/model/customer-message.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { linkToShow } from '../customer/customer-link.ts';
import type { CustomerDeps } from '../customer/deps.ts';
import { visitOf } from '../customer/visit.ts';
import { carName } from '../jobs/job-view.ts';
import { raiseException } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';
import type { Mail, Mailer } from './mailer.ts';
import { messageNames } from './message-words.ts';
import { baseOccasion, occasionOf } from './occasions.ts';
import { writeMessage } from './write-message.ts';

const MINUTE_MS = 60_000;
/** Attempts, the first after no wait: 1, 2, 4 ... minutes between them, two hours in all. */
const MOST_ATTEMPTS = 8;
/** What waited longer, say because e-mail was off, would surprise. */
const OLDEST_MS = 24 * 60 * MINUTE_MS;
/** How much longer than an attempt can last a claim is believed. */
const CLAIM_GRACE_MS = MINUTE_MS;
const MOST_AT_ONCE = 50;

/** The process that had it in hand ended before it wrote how the attempt went. */
const SENDER_GONE = 'the server stopped while it was being sent';

/**
 * Sends what is due in one shop; returns how many messages went out. A message is claimed before it is sent, so that of
 * several servers one sends it. Whoever dies between the claim and its end leaves it `unknown`: that is told to the desk and
 * never sent again by itself.
 */
export async function sendDue(deps: CustomerDeps, input: { readonly shopId: ShopId }): Promise<number> {
  const { mailer, store, clock } = deps;
  if (mailer === null) return 0;
  const { shopId } = input;
  await tellOfLostClaims(deps, shopId, mailer);
  let sent = 0;
  for (const message of await store.messages.due(shopId, clock(), MOST_AT_ONCE)) {
    const claim = deps.newId();
    if (!(await store.messages.claim(shopId, message, claim, clock()))) continue;
    const attempted = { ...message, attempts: message.attempts + 1 };
    const outcome = await attempt(deps, mailer, shopId, attempted).catch((err: unknown): AttemptOutcome => {
      deps.log.error({ err, kind: message.kind }, 'a message could not be written');
      return { state: 'failed', at: clock(), fault: 'it could not be written; the log has the reason' };
    });
    await settle(deps, shopId, attempted, claim, outcome);
    if (outcome.state === 'sent') sent += 1;
  }
  return sent;
}

async function attempt(
  deps: CustomerDeps,
  mailer: Mailer,
  shopId: ShopId,
  message: QueuedMessage,
): Promise<AttemptOutcome> {
  const now = deps.clock();
  const ended = (state: AttemptOutcome['state'], fault: string): AttemptOutcome => ({ state, at: now, fault });
  const job = (await deps.store.jobs.get(shopId, message.jobId))?.value;
  const occasion = job && (await occasionOf(deps.store, shopId, job, message.kind, now));
  if (job === undefined || occasion !== baseOccasion(message.occasion)) return ended('dropped', 'it no longer applies');
  if (now - message.queuedAt > OLDEST_MS) return ended('failed', 'it waited for more than a day');
  if (job.customer.email === '') return ended('failed', 'there is no e-mail address');
  const mail = await mailOf(deps, shopId, job, message, now);
  const delivery = await mailer.send(mail);
  const at = deps.clock();
  if (delivery.kind === 'accepted') return { state: 'sent', at, fault: '' };
  if (delivery.kind === 'unknown') return { state: 'unknown', at, fault: delivery.reason };
  if (delivery.kind === 'refused' || message.attempts >= MOST_ATTEMPTS) {
    return { state: 'failed', at, fault: delivery.reason };
  }
  const dueAt = (at + 2 ** (message.attempts - 1) * MINUTE_MS) as Instant;
  return { state: 'queued', at, dueAt, fault: delivery.reason };
}

async function mailOf(
  deps: CustomerDeps,
  shopId: ShopId,
  job: Job,
  message: QueuedMessage,
  now: Instant,
): Promise<Mail> {
  const of = { shopId, jobId: job.id };
  const visit = await visitOf(deps.store, of, now);
  const { url } = await linkToShow(deps, of);
  const { subject, text } = writeMessage(message.kind, visit, job.customer.name, url ?? '');
  return { messageId: messageId(deps, shopId, message), to: job.customer.email, subject, text };
}

/** The same for each attempt at a message, on any server. An address in figures is no name to make it unique by. */
function messageId(deps: CustomerDeps, shopId: ShopId, { jobId, kind, occasion }: QueuedMessage): string {
  const left = createHash('sha256')
    .update(JSON.stringify([shopId, jobId, kind, occasion]))
    .digest('hex')
    .slice(0, 40);
  const host = new URL(deps.publicUrl()).hostname;
  return `<${left}@${isIP(host.replace(/^\[|\]$/g, '')) === 0 ? host : 'panelday.invalid'}>`;
}

async function settle(
  deps: CustomerDeps,
  shopId: ShopId,
  message: QueuedMessage,
  claim: string,
  outcome: AttemptOutcome,
): Promise<void> {
  const { jobId, kind, occasion } = message;
  await deps.store.transaction(shopId, async (records) => {
    // Given up meanwhile by somebody whose clock is ahead: what that one wrote stands, and the desk looks.
    if (!(await records.messages.settle(shopId, message, claim, outcome))) return;
    await tell(records, shopId, outcome.at, 'message.settled', jobId, { kind, occasion, state: outcome.state });
    if (outcome.state === 'failed' || outcome.state === 'unknown') {
      await tellDesk(records, shopId, message, outcome.state, outcome.fault, outcome.at);
    }
  });
}

async function tellOfLostClaims(deps: CustomerDeps, shopId: ShopId, mailer: Mailer): Promise<void> {
  const now = deps.clock();
  const before = (now - mailer.longestMs - CLAIM_GRACE_MS) as Instant;
  if ((await deps.store.messages.overdue(shopId, before)).length === 0) return;
  await deps.store.transaction(shopId, async (records) => {
    for (const lost of await records.messages.giveUpClaims(shopId, before, now, SENDER_GONE)) {
      const { jobId, kind, occasion } = lost;
      await tell(records, shopId, now, 'message.settled', jobId, { kind, occasion, state: 'unknown' });
      await tellDesk(records, shopId, lost, 'unknown', SENDER_GONE, now);
    }
  });
}

async function tellDesk(
  records: Records,
  shopId: ShopId,
  message: QueuedMessage,
  state: 'failed' | 'unknown',
  fault: string,
  at: Instant,
): Promise<void> {
  const job = (await records.jobs.get(shopId, message.jobId))?.value;
  const what = `${job === undefined ? 'A car' : carName(job)}: the message “${messageNames[message.kind]}”`;
  await raiseException(records, shopId, at, {
    kind: 'messageNotSent',
    jobId: message.jobId,
    cause: `${message.kind} ${message.occasion} ${message.attempts}`,
    text:
      state === 'failed'
        ? `${what} did not go out (${fault}). Tell the customer another way.`
        : `${what} may or may not have gone out (${fault}). Ask the customer before it is sent again.`,
  });
}
