import type { ShopId } from '../../trade/model/ids.ts';
import { lapseHolds } from '../booking/lapse-holds.ts';
import type { ShopDeps } from '../deps.ts';
import { defaultScopes } from '../inspection/default-scopes.ts';
import { warnOfRisks } from '../promises/at-risk.ts';
import { forgetOld } from '../requests/forget-old.ts';
import { behindPlan } from './behind-plan.ts';

/**
 * What the passing of time asks for in one shop: holds lapse, unanswered scopes fall to their default, a day that runs
 * behind its plan is planned again, promises come to be at risk.
 */
export async function keepUp(deps: ShopDeps, input: { shopId: ShopId }): Promise<void> {
  const { shopId } = input;
  await lapseHolds(deps, input);
  await defaultScopes(deps, input);
  const plan = await deps.store.plans.current(shopId);
  if (plan !== null && behindPlan(plan, deps.clock()).length > 0)
    deps.replanner.ask(shopId, 'the day runs behind its plan');
  await warnOfRisks(deps, input);
}

/** Rounds of upkeep between two times of forgetting. */
const ROUNDS_TO_FORGET = 120;

/** Keeps every shop up, again and again. Returns the way to stop; the shop whose turn it is is finished first. */
export function keepUpEvery(deps: ShopDeps, everyMs: number): () => Promise<void> {
  const stopping = new AbortController();
  let timer: NodeJS.Timeout | undefined;
  let rounds = 0;
  let round: Promise<void> = Promise.resolve();
  const again = () => {
    if (stopping.signal.aborted) return;
    timer = setTimeout(() => {
      round = keepUpAll(deps, stopping.signal, rounds++ % ROUNDS_TO_FORGET === 0).then(again);
    }, everyMs);
  };
  again();
  return async () => {
    stopping.abort();
    clearTimeout(timer);
    await round;
  };
}

/** One round: every shop in turn, whatever becomes of the others. */
async function keepUpAll(deps: ShopDeps, stopping: AbortSignal, alsoForget: boolean): Promise<void> {
  try {
    for (const { value: shop } of await deps.store.shops.list()) {
      if (stopping.aborted) return;
      await keepUp(deps, { shopId: shop.id }).catch((err: unknown) => {
        deps.log.error({ err, shopId: shop.id }, 'the upkeep of a shop failed and is tried again');
      });
    }
    if (alsoForget) await forgetOld(deps);
  } catch (err) {
    deps.log.error({ err }, 'upkeep failed and is tried again');
  }
}
