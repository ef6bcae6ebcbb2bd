import type { Book } from '../../trade/formulate/book.ts';
import type { DraftAsk, DraftPlan } from './draft-plan.ts';

/** What of a drafted plan is published. */
export type Draft = Pick<DraftPlan, 'plan' | 'released' | 'exceptions' | 'notKept'>;

/** How a drafter searches. */
export interface DraftTerms {
  readonly seed: number;
  /** Milliseconds after which one search is interrupted. */
  readonly timeLimitMs: number;
  /** A better plan of a shop that has one: what somebody waits for comes first. */
  readonly nobodyWaits?: boolean;
}

/** Drafts whole plans, formulated, solved and checked, somewhere else than on the thread that serves requests. */
export interface Drafter {
  /** As `draftPlan`. @throws PlanRejected, Busy */
  draft(book: Book, ask: DraftAsk, terms: DraftTerms): Promise<Draft>;
}
