import { solve } from '../../engine/solve.ts';
import { Busy, PlanRejected } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { type DraftAsk, draftPlan } from './draft-plan.ts';
import type { Draft, DraftTerms } from './drafter.ts';
import { type PackedBook, unpackBook } from './packed-book.ts';
import type { Planner } from './planner.ts';
import { planToSend, type SentPlan } from './sent-plan.ts';
import { begins } from './thread-task.ts';

/** One book, as it travels to a worker. */
export interface DraftTask {
  readonly book: PackedBook;
  readonly ask: Omit<DraftAsk, 'signal'>;
  readonly terms: DraftTerms;
  /** Set to 1 by whoever wants the search to stop; shared memory, since a busy worker reads no messages. */
  readonly stop: Int32Array;
}

/** What comes back: errors lose their class on the way, so they travel as what they say. */
export type DraftReply =
  | { readonly kind: 'drafted'; readonly draft: Omit<Draft, 'plan'>; readonly plan: SentPlan }
  | { readonly kind: 'rejected'; readonly violations: readonly Objection[] }
  | { readonly kind: 'busy'; readonly message: string; readonly reasons: readonly Objection[] };

async function draftTask({ book, ask, terms, stop }: DraftTask): Promise<DraftReply> {
  const planner: Pick<Planner, 'plan'> = {
    plan: async (problem, options) =>
      solve(problem, {
        ...options,
        clock: () => performance.now(),
        cancelled: () => Atomics.load(stop, 0) === 1,
      }),
  };
  // What went wrong is told by whoever asked, with the log of the server.
  const log = { info() {}, warn() {}, error() {} };
  try {
    const deps = { planner, log, seed: terms.seed, budget: { timeLimitMs: terms.timeLimitMs } };
    const asked = unpackBook(book);
    const { plan, released, exceptions, notKept } = await draftPlan(deps, asked, ask);
    return { kind: 'drafted', draft: { released, exceptions, notKept }, plan: planToSend(plan, asked.previousPlan) };
  } catch (problem) {
    if (problem instanceof PlanRejected) return { kind: 'rejected', violations: problem.objections };
    if (problem instanceof Busy) return { kind: 'busy', message: problem.message, reasons: problem.reasons };
    throw problem;
  }
}

/** What runs in the worker thread. */
export default begins(draftTask);
