import type { Records } from '../../store/store.ts';
import type { MessageKind } from '../../trade/model/customer-message.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { NewsKind } from '../records/tell.ts';
import { occasionOf } from './occasions.ts';
import { noteToldTimes } from './told-times.ts';

/** News of a job after which a customer may have to hear something. */
const OF_JOBS: ReadonlySet<string> = new Set<NewsKind>(['job.changed', 'inspection.recorded']);

/**
 * Called for all news, in its transaction: notes what a customer was told, and queues the messages that the shop mails by
 * itself. So a message is queued when, and only when, what it tells has happened.
 */
export async function queueForNews(
  records: Records,
  shopId: ShopId,
  at: Instant,
  news: { readonly kind: NewsKind; readonly subject: string; readonly body: Readonly<Record<string, unknown>> },
): Promise<void> {
  if (OF_JOBS.has(news.kind)) {
    const job = (await records.jobs.get(shopId, JobId.parse(news.subject)))?.value;
    if (job === undefined) return;
    const told = await noteToldTimes(records, shopId, job, at);
    // Whoever stands in an old diary has long been told.
    if (news.body.imported === true) return;
    // A booking and its times are told when they come to stand, not when something else is changed later.
    const ofTimes: MessageKind[] = told === null ? [] : [told.number === 1 ? 'booked' : 'timesChanged'];
    const kinds: MessageKind[] = [...ofTimes, 'scope', 'aftercare'];
    await queueAutomatic(records, shopId, job, kinds, at);
  } else if (news.kind === 'plan.published') {
    if (!(await automaticKinds(records, shopId)).includes('ready')) return;
    for (const { value: job } of await records.jobs.listOpen(shopId)) {
      if (job.state === 'inShop') await queueAutomatic(records, shopId, job, ['ready'], at);
    }
  }
}

/** Queues those of some kinds that the shop mails by itself and that apply to a job with an e-mail address. */
export async function queueAutomatic(
  records: Records,
  shopId: ShopId,
  job: Job,
  kinds: readonly MessageKind[],
  at: Instant,
): Promise<void> {
  if (job.customer.email === '') return;
  const automatic = await automaticKinds(records, shopId);
  for (const kind of kinds.filter((each) => automatic.includes(each))) {
    const occasion = await occasionOf(records, shopId, job, kind, at);
    if (occasion === null) continue;
    await records.messages.queue(shopId, { jobId: job.id, kind, occasion, queuedAt: at, dueAt: at });
  }
}

async function automaticKinds(records: Records, shopId: ShopId): Promise<readonly MessageKind[]> {
  return (await records.shops.get(shopId))?.value.toCustomers?.automaticMessages ?? [];
}
