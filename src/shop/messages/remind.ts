import type { ShopId } from '../../trade/model/ids.ts';
import type { CustomerDeps } from '../customer/deps.ts';
import { queueAutomatic } from './queue-for-news.ts';

const HOUR_MS = 60 * 60_000;
/** Who booked a moment ago knows when; closer to the drop-off than this nothing is said any more. */
const TOO_LATE_MS = HOUR_MS;

/** Queues reminders of the drop-offs that are near, once for each hour told. */
export async function remind(deps: Pick<CustomerDeps, 'store' | 'clock'>, input: { shopId: ShopId }): Promise<void> {
  const { shopId } = input;
  const now = deps.clock();
  const shop = await deps.store.shops.get(shopId);
  const { automaticMessages = [], reminderHours = 0 } = shop?.value.toCustomers ?? {};
  if (!automaticMessages.includes('reminder')) return;
  const from = now + TOO_LATE_MS;
  const to = now + reminderHours * HOUR_MS;
  for (const { value: job } of await deps.store.jobs.listOpen(shopId)) {
    const { dropOffAt, createdAt } = job;
    if (job.state !== 'booked' || dropOffAt === null || dropOffAt < from || dropOffAt > to) continue;
    // Booked inside the span of reminding: the confirmation said it.
    if (createdAt > dropOffAt - reminderHours * HOUR_MS) continue;
    await deps.store.transaction(shopId, (records) => queueAutomatic(records, shopId, job, ['reminder'], now));
  }
}
