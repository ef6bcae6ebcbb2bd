import { StalePlan } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { PlanningDeps } from '../deps.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { Refused, Stale } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import { consider, type WhatIfAnswer } from './what-if.ts';
import type { WhatIf } from './what-if-request.ts';
import { withWish } from './wish-asked.ts';

export interface Applied extends WhatIfAnswer {
  /** Version of the plan that was published with the wish. */
  readonly published: number;
}

/**
 * Makes a what-if so: it is asked once more, and the plan published with the wish kept on the job. A promise that breaks
 * by it must have been accepted by a person.
 * @param input.expectedPlan version of the plan that was looked at
 * @throws Stale when another plan was published meanwhile; Refused; NotFound, WrongState, Invalid, Busy, PlanRejected
 */
export async function applyWish(
  deps: PlanningDeps,
  input: { shopId: ShopId; asked: WhatIf; expectedPlan: number; acceptBroken: boolean },
): Promise<Applied> {
  const { shopId, expectedPlan } = input;
  const now = deps.clock();
  const book = await loadBook(deps.store, shopId, now);
  const current = book.previousPlan?.version ?? 0;
  if (current !== expectedPlan) throw new Stale('plan', expectedPlan, current);
  const { answer, asked, draft } = await consider(deps, book, input.asked);
  if (draft === null) throw new Refused('It cannot go there.', answer.reasons);
  const broken = answer.pickups.filter((each) => each.broken);
  if (broken.length > 0 && !input.acceptBroken) {
    const objections = broken.map(({ car, lateMinutesAfter }) => ({
      rule: 'promise',
      field: 'acceptBroken',
      text: `${car} would be ${lateMinutesAfter} minutes after the promised pickup.`,
    }));
    throw new Refused('A promise would break; somebody has to accept that.', objections);
  }
  const { job, wish, operation } = asked;
  const { version } = await foundJob(deps.store, shopId, job.id);
  const plan = { ...draft.plan, reason: `decided at the desk: ${operation.label}, ${answer.car}`.slice(0, 200) };
  try {
    const published = await inShopTerms(() =>
      publish(
        deps.store,
        {
          shopId,
          plan,
          expectedVersion: current,
          jobs: book.jobs,
          standing: book.previousPlan,
          exceptions: draft.exceptions,
          alsoWrite: async (records) => {
            await records.jobs.put(shopId, withWish(job, wish), version);
            await tell(records, shopId, now, 'job.changed', job.id, { state: job.state });
          },
        },
        now,
      ),
    );
    return { ...answer, published: published.version };
  } catch (refusal) {
    if (refusal instanceof StalePlan) throw new Stale('plan', expectedPlan, null);
    throw refusal;
  }
}
