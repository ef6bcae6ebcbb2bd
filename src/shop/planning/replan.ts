import { StalePlan } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { PlanningDeps, ShopDeps } from '../deps.ts';
import { Busy, PlanRejected } from '../problems/problems.ts';
import { raiseException } from '../records/raise-exception.ts';
import { type DraftAsk, draftPlan } from './draft-plan.ts';
import type { Draft } from './drafter.ts';
import { loadBook } from './load-book.ts';
import { type BrokenPromise, brokenPromises, publish, tellBroken } from './publish.ts';

export interface Replanned {
  readonly plan: Plan;
  /** Promises the plan cannot keep; each waits for a person's acknowledgement. */
  readonly broken: readonly BrokenPromise[];
  /** Freezes that had to be released so that a plan exists, in the order they were released. */
  readonly released: readonly string[];
  /** False when the plan that stood already was as good and nothing was published. */
  readonly published: boolean;
}

/** Times a plan is made anew because another was published meanwhile. */
const MOST_TRIES = 6;

interface Ask {
  readonly shopId: ShopId;
  readonly reason: string;
  readonly signal?: AbortSignal;
}

/**
 * Plans the whole book again and publishes it, after an independent check. Facts never make it fail: clashing
 * freezes are released in a stated order and the desk is told.
 * @throws NotFound (shop), Busy, PlanRejected (the plan that stood stays)
 */
export function replan(deps: PlanningDeps, input: Ask): Promise<Replanned> {
  return planAndPublish(deps, input, deps.budget.promptWork, () => true);
}

/**
 * As `replan`, but the first plan that obeys every rule is published at once; a better one is looked for after it, and what
 * it breaks newly is told to the desk when that search has not mended it. Throws as `replan` does.
 */
export async function replanAtOnce(deps: ShopDeps, input: Ask): Promise<Replanned> {
  const done = await firstPlan(deps, input);
  deps.replanner.improve(input.shopId);
  return done;
}

/** Publishes the first plan that obeys every rule; whoever asks has a better one looked for after it. Throws as `replan` does. */
export function firstPlan(deps: PlanningDeps, input: Ask): Promise<Replanned> {
  return planAndPublish(deps, { ...input, isFirst: true }, 0, () => true);
}

/** Makes a plan and publishes it when it is worth it; made anew when another was published meanwhile. */
export async function planAndPublish(
  deps: PlanningDeps,
  input: Ask & { readonly isFirst?: boolean; readonly nobodyWaits?: boolean },
  workLimit: number,
  isWorthIt: (draft: Draft, standing: Plan | null, book: Book) => boolean | Promise<boolean>,
): Promise<Replanned> {
  const { shopId, reason, signal, isFirst = false, nobodyWaits = false } = input;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const book = await loadBook(deps.store, shopId, deps.clock());
    const standing = book.previousPlan;
    const ask = { reason, workLimit, keepPlan: true, ...(signal ? { signal } : {}) };
    const draft = await drafted(deps, book, ask, nobodyWaits).catch((problem) => tellDesk(deps, shopId, problem));
    // Whoever cancelled knows of something this plan does not.
    if (signal?.aborted) throw new Busy('Planning was cancelled.');
    if (!(await isWorthIt(draft, standing, book))) {
      await deps.store.transaction(shopId, (records) =>
        tellBroken(records, { shopId, plan: standing!, jobs: book.jobs }, deps.clock()),
      );
      return { plan: standing!, broken: brokenPromises(standing!), released: [], published: false };
    }
    try {
      const { plan: drafted, exceptions, released } = draft;
      const expectedVersion = standing?.version ?? 0;
      const plan = await publish(
        deps.store,
        { shopId, plan: drafted, expectedVersion, jobs: book.jobs, standing, exceptions, isFirst },
        deps.clock(),
      );
      return { plan, broken: brokenPromises(plan), released, published: true };
    } catch (refusal) {
      if (!(refusal instanceof StalePlan)) throw refusal;
    }
  }
  throw new Busy('The plan keeps changing; try again.');
}

/** Drafted in a worker where there is one, for formulating and checking a large book takes its time too. */
function drafted(deps: PlanningDeps, book: Book, ask: DraftAsk, nobodyWaits: boolean): Promise<Draft> {
  const terms = { seed: deps.seed, timeLimitMs: deps.budget.timeLimitMs, nobodyWaits };
  return deps.drafter?.draft(book, ask, terms) ?? draftPlan(deps, book, ask);
}

/** A rejected plan is the desk's business too: until a new one is made, the old one stands. */
async function tellDesk(deps: PlanningDeps, shopId: ShopId, problem: unknown): Promise<never> {
  if (problem instanceof PlanRejected || (problem instanceof Busy && problem.message.startsWith('No plan'))) {
    const now = deps.clock();
    const why = problem.objections.map((each) => each.text).join(' ');
    await deps.store.transaction(shopId, async (records) => {
      await raiseException(records, shopId, now, {
        kind: 'planRejected',
        jobId: null,
        cause: `${problem.message} ${Math.floor(now / 3_600_000)}`,
        text: `${problem.message} ${why}`.trim(),
      });
    });
  }
  throw problem;
}
