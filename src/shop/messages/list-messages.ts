import { MessageKind, type MessageState, type QueuedMessage } from '../../trade/model/customer-message.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { type LinkView, linkToShow } from '../customer/customer-link.ts';
import type { CustomerDeps } from '../customer/deps.ts';
import { visitOf } from '../customer/visit.ts';
import { foundJob } from '../records/found.ts';
import { messageNames } from './message-words.ts';
import { baseOccasion, occasionOf } from './occasions.ts';
import { writeMessage } from './write-message.ts';

/** One text, ready to be copied or sent, and what became of it. */
export interface MessageLine {
  readonly kind: MessageKind;
  readonly name: string;
  /** Whether it fits how things stand now. */
  readonly applies: boolean;
  readonly subject: string;
  readonly text: string;
  /** Of the last one about this; `notSent` when none was ever queued. */
  readonly state: MessageState | 'notSent';
  readonly attempts: number;
  readonly changedAt: Instant | null;
  /** When a queued one is tried (again). */
  readonly dueAt: Instant | null;
  readonly fault: string;
}

export interface JobMessages {
  readonly mail: {
    /** Whether messages can be mailed to this customer. */
    readonly on: boolean;
    /** Why not, in words; empty when they can. */
    readonly reason: string;
  };
  readonly link: LinkView;
  readonly items: readonly MessageLine[];
}

/** Every text for a job's customer, with the link in it: one is issued when there is none yet. @throws NotFound */
export async function listMessages(
  deps: CustomerDeps,
  of: { readonly shopId: ShopId; readonly jobId: JobId },
): Promise<JobMessages> {
  const { shopId, jobId } = of;
  const now = deps.clock();
  const { value: job } = await foundJob(deps.store, shopId, jobId);
  const link = await linkToShow(deps, of);
  const visit = await visitOf(deps.store, of, now);
  const rows = await deps.store.messages.listByJob(shopId, jobId);
  const items: MessageLine[] = [];
  for (const kind of MessageKind.options) {
    const occasion = await occasionOf(deps.store, shopId, job, kind, now);
    const last = lastOf(rows, kind, occasion);
    items.push({
      kind,
      name: messageNames[kind],
      applies: occasion !== null,
      ...writeMessage(kind, visit, job.customer.name, link.url ?? ''),
      state: last?.state ?? 'notSent',
      attempts: last?.attempts ?? 0,
      changedAt: last?.changedAt ?? null,
      dueAt: last?.state === 'queued' ? last.dueAt : null,
      fault: last?.fault ?? '',
    });
  }
  return { mail: mailTo(deps, job.customer.email), link, items };
}

/** Whether, and if not why, a customer can be mailed. */
export function mailTo(deps: CustomerDeps, email: string): JobMessages['mail'] {
  if (deps.mailer === null) return { on: false, reason: 'E-mail is off: set SMTP_URL and MAIL_FROM.' };
  if (email === '') return { on: false, reason: 'The customer has no e-mail address.' };
  return { on: true, reason: '' };
}

/** The newest about the present occasion; where a kind does not apply now, the newest of the kind. */
function lastOf(rows: readonly QueuedMessage[], kind: MessageKind, occasion: string | null): QueuedMessage | undefined {
  return rows
    .filter((row) => row.kind === kind && (occasion === null || baseOccasion(row.occasion) === occasion))
    .at(-1);
}
