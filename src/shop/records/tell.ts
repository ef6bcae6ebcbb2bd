import type { Records } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { queueForNews } from '../messages/queue-for-news.ts';

/** What live screens hear of. `subject` is an id: of a job, a plan's version, an exception, an air zone. */
export type NewsKind =
  | 'plan.published'
  | 'job.changed'
  | 'fact.recorded'
  | 'inspection.recorded'
  | 'scope.answered'
  | 'readings.recorded'
  | 'promise.atRisk'
  | 'promise.safeAgain'
  | 'exception.raised'
  | 'exception.acknowledged'
  | 'technician.timeOff'
  | 'photo.kept'
  | 'photo.deleted'
  | 'message.settled'
  | 'link.changed';

/** Writes news into the outbox, in the transaction of what it tells, and queues what customers are to hear of it. */
export async function tell(
  records: Records,
  shopId: ShopId,
  at: Instant,
  kind: NewsKind,
  subject: string,
  body: Readonly<Record<string, unknown>> = {},
): Promise<void> {
  await records.outbox.append(shopId, { kind, subject, at, body });
  await queueForNews(records, shopId, at, { kind, subject, body });
}
