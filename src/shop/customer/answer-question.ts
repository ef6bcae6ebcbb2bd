import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { answerScope } from '../inspection/answer-scope.ts';
import { Stale, WrongState } from '../problems/problems.ts';
import { foundJob } from '../records/found.ts';
import type { CustomerDeps } from './deps.ts';
import { openVisit } from './open-visit.ts';

/** Times the answer is tried again because the desk wrote to the job in that moment. */
const MOST_TRIES = 5;

export interface CustomerAnswer {
  readonly token: string;
  readonly answer: 'approved' | 'declined';
  /** The question that was read: its deadline and price. Another one has to be read first. */
  readonly answerBy: Instant;
  readonly priceMinor: number;
}

/**
 * The customer's own yes or no to the revised scope, as long as it is asked. Returns null when the token opens nothing.
 * @throws WrongState (no longer asked, past its deadline, or asked differently meanwhile)
 */
export async function answerQuestion(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'> & Pick<CustomerDeps, 'store'>,
  input: CustomerAnswer,
): Promise<'answered' | null> {
  for (let tries = 1; ; tries++) {
    const opened = await openVisit(deps, input.token);
    if (opened === null) return null;
    const { shopId, jobId } = opened;
    const { value: job, version } = await foundJob(deps.store, shopId, jobId);
    const { scope } = job;
    if (job.state !== 'inShop' || scope?.answer !== 'awaited') throw new WrongState('It is settled already.', 'answer');
    if (scope.answerBy <= deps.clock()) throw new WrongState('The time to answer is over.', 'answer');
    if (scope.answerBy !== input.answerBy || scope.priceMinor !== input.priceMinor) {
      throw new WrongState('The question has changed; please read it again.', 'answer');
    }
    try {
      await answerScope(deps, { shopId, jobId, expectedVersion: version, answer: input.answer });
      return 'answered';
    } catch (refusal) {
      if (!(refusal instanceof Stale) || tries === MOST_TRIES) throw refusal;
    }
  }
}
