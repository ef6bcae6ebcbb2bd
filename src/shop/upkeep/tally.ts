import type { Tally } from '../../store/store.ts';
import { MessageState } from '../../trade/model/customer-message.ts';
import { JobState } from '../../trade/model/job.ts';
import type { ShopDeps } from '../deps.ts';

/** What all shops hold, in numbers, every state among them: what nothing is in counts as none, and is not left out. */
export async function tally({ store }: Pick<ShopDeps, 'store'>): Promise<Tally> {
  const counted = await store.tally();
  const every = (states: readonly string[], counts: Readonly<Record<string, number>>) =>
    Object.fromEntries(states.map((state) => [state, counts[state] ?? 0]));
  return {
    ...counted,
    jobs: every(JobState.options, counted.jobs),
    messages: every(MessageState.options, counted.messages),
  };
}
