import type { MessageKind } from '../../trade/model/customer-message.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { CustomerDeps } from '../customer/deps.ts';
import { Refused, WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { listMessages, type MessageLine, mailTo } from './list-messages.ts';
import { messageNames } from './message-words.ts';
import { againOccasion, baseOccasion, occasionOf } from './occasions.ts';

/**
 * Puts a message into the queue because a person says so. What was sent already, or may have been, goes out again only when
 * that is asked for. @throws NotFound, WrongState (does not apply, or sent already), Refused (e-mail is off, no address)
 */
export async function sendMessage(
  deps: CustomerDeps,
  input: { readonly shopId: ShopId; readonly jobId: JobId; readonly kind: MessageKind; readonly again: boolean },
): Promise<MessageLine> {
  const { shopId, jobId, kind, again } = input;
  await inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      const now = deps.clock();
      const { value: job } = await foundJob(records, shopId, jobId);
      const { on, reason } = mailTo(deps, job.customer.email);
      if (!on) throw new Refused(reason, [{ rule: 'mail', field: 'kind', text: reason }]);
      const occasion = await occasionOf(records, shopId, job, kind, now);
      if (occasion === null) throw new WrongState(`“${messageNames[kind]}” does not fit the job as it stands.`, 'kind');
      const before = (await records.messages.listByJob(shopId, jobId)).filter(
        (row) => row.kind === kind && baseOccasion(row.occasion) === occasion,
      );
      const last = before.at(-1);
      if (last !== undefined && (last.state === 'queued' || last.state === 'sending')) {
        throw new WrongState('It is on its way already.', 'kind');
      }
      // What failed for good, or was dropped, did not reach anybody.
      const mayBeThere = before.some((row) => row.state === 'sent' || row.state === 'unknown');
      if (mayBeThere && !again) throw new WrongState('It was sent already; say so to send it again.', 'again');
      const key = { jobId, kind, occasion: againOccasion(occasion, before.length + 1) };
      await records.messages.queue(shopId, { ...key, queuedAt: now, dueAt: now });
    }),
  );
  deps.wake?.();
  const { items } = await listMessages(deps, input);
  return items.find((item) => item.kind === kind)!;
}
