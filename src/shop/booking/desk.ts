import type { Book } from '../../trade/formulate/book.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Objection } from '../problems/shop-problem.ts';
import type { ToRaise } from '../records/raise-exception.ts';
import type { Displaced } from './displaced.ts';
import type { Nearest } from './nearest.ts';

/**
 * Why a slot is offered. `soonest`: the earliest pickup; `wantedDay`: nearest to the wanted drop-off; `laterDay`: the
 * calmest of the days after the soonest; `shortestStay` and `fewestBayHours`: at least an hour less away from its owner, or in
 * bays, than the others; `movingOthers`: picked up at least half a day sooner than all of them, because others give way.
 */
export type SlotWhy = 'soonest' | 'movingOthers' | 'wantedDay' | 'laterDay' | 'shortestStay' | 'fewestBayHours';

export interface Slot extends Nearest {
  readonly why: SlotWhy;
  /** Whom it displaces; empty: nobody. */
  readonly displaces: readonly Displaced[];
  readonly operations: readonly PlannedOperation[];
  readonly stays: readonly PlannedStay[];
}

/** A question about a car that is not in the book; or only that the book be open when the next is asked. */
export type DeskQuestion =
  | { readonly kind: 'open' }
  | { readonly kind: 'slots'; readonly job: Job; readonly wantedDropOffAt: Instant | null }
  /** A car at the hour told to its customer, with the pickup asked for; null: the one the plan gives. */
  | { readonly kind: 'keep'; readonly job: Job; readonly pickupAt: Instant | null; readonly reason: string }
  /** The first slot alone, moving nobody. */
  | { readonly kind: 'nearest'; readonly job: Job };

export type DeskAnswer =
  | { readonly kind: 'open' }
  /** `planVersion`: of the plan they were found in. */
  | { readonly kind: 'slots'; readonly slots: readonly Slot[]; readonly planVersion: number }
  | { readonly kind: 'kept'; readonly job: Job; readonly plan: Plan; readonly exceptions: readonly ToRaise[] }
  /** Nowhere in the weeks that are open, or not at the hour that was told, with why as far as it was found out in time. */
  | { readonly kind: 'noPlace'; readonly reasons: readonly Objection[] }
  /** A place there is, but the pickup asked for is less sure than the shop promises. */
  | { readonly kind: 'unsure'; readonly confidencePercent: number; readonly earliest: Instant | null }
  /** Without moving anybody it cannot be told: the whole book is to be planned with the car. */
  | { readonly kind: 'cannotTell' }
  /** The independent checker found fault with what was found. */
  | { readonly kind: 'broken'; readonly violations: readonly Objection[] };

/** A book as it stood at one moment; `key` names that moment, and equal keys are equal books. */
export interface StandingBook {
  readonly shopId: ShopId;
  readonly key: string;
  /** Of the last news that is in it. */
  readonly sequence: number;
  readonly book: Book;
  /** Where the book came from by the sale of a car that this desk answered about, and nothing else. */
  readonly sold?: SoldFrom;
}

export interface SoldFrom {
  /** The moment before. */
  readonly key: string;
  readonly jobId: JobId;
  /** As it was published with the car. */
  readonly plan: Plan;
}

/** Which book a question is about: this one; or this one, unless a later one of its shop is open by then, which does as well. */
export type WhichBook = 'this' | 'orSince';

/** Keeps a shop's plan open in memory and answers questions about one more car from it, moving nobody. */
export interface Desk {
  /** @throws Busy when no answer came in time */
  ask(standing: StandingBook, question: DeskQuestion, which?: WhichBook): Promise<DeskAnswer>;
  /** The book of a shop that is open now; null when none is. */
  openNow(shopId: ShopId): StandingBook | null;
}
