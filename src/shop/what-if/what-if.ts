import type { Book } from '../../trade/formulate/book.ts';
import type { PlaceId, ShopId } from '../../trade/model/ids.ts';
import type { Wish } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import type { Draft } from '../planning/drafter.ts';
import { loadBook } from '../planning/load-book.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { draftBook, draftWish } from './draft-wish.ts';
import { type PlanChanges, planChanges } from './plan-changes.ts';
import type { WhatIf } from './what-if-request.ts';
import { whyNotThen } from './why-not-then.ts';
import { objectionsTo, type WishAsked, wishAsked } from './wish-asked.ts';

/** Somebody looks at the screen: what is not found by then counts as not found, and the answer says so. */
const PATIENCE_MS = 10_000;

/** What the engine says to "what if it went here". */
export interface WhatIfAnswer extends PlanChanges {
  /** Version of the plan it was asked against; applying names it. */
  readonly planVersion: number;
  readonly car: string;
  readonly label: string;
  readonly wish: Omit<Wish, 'madeAt' | 'planBefore'>;
  readonly allowed: boolean;
  /** Which rules forbid it; empty when it is allowed. */
  readonly reasons: readonly Objection[];
  /** The first start after the refused one at which it would be allowed, all else being as asked; null: none, or not looked for. */
  readonly nearest: { readonly startAt: Instant; readonly placeId: PlaceId | null } | null;
}

/** An answer, and the plan behind it where there is one. */
export interface Considered {
  readonly answer: WhatIfAnswer;
  readonly asked: WishAsked;
  readonly draft: Draft | null;
}

/**
 * Answers "what if it went here" by planning the whole book twice from the plan that stands, once with the wish and once
 * without, so that the difference is the wish's and not the clock's. Nothing is stored.
 * @throws NotFound, WrongState, Invalid, Busy, PlanRejected
 */
export async function whatIf(deps: PlanningDeps, input: { shopId: ShopId; asked: WhatIf }): Promise<WhatIfAnswer> {
  const book = await loadBook(deps.store, input.shopId, deps.clock());
  return (await consider(deps, book, input.asked)).answer;
}

/** As `whatIf`, for a book that has been read. */
export async function consider(deps: PlanningDeps, book: Book, whatIf: WhatIf): Promise<Considered> {
  const asked = wishAsked(book, whatIf);
  const objections = objectionsTo(asked);
  if (objections.length > 0) return { asked, draft: null, answer: refusal(asked, objections, null) };
  const without = await draftBook(deps, book);
  const drafted = await draftWish(deps, book, asked, without, AbortSignal.timeout(PATIENCE_MS));
  if ('reasons' in drafted) {
    const { startAt, personId } = asked.wish;
    const why = startAt === null ? null : whyNotThen(book, without.plan, asked.operation, startAt, personId);
    const reasons = why === null ? drafted.reasons : [why, ...drafted.reasons];
    const nearest = await nearestTo(deps, book, asked, without);
    return { asked, draft: null, answer: refusal(asked, reasons, nearest) };
  }
  const { draft } = drafted;
  const answer = { ...about(asked), allowed: true, reasons: [], nearest: null };
  return { asked, draft, answer: { ...answer, ...planChanges(without.plan, draft.plan, book.jobs) } };
}

function about({ job, operation, wish, standing }: WishAsked) {
  const { madeAt: _, planBefore: __, ...wished } = wish;
  return { planVersion: standing.version, car: carName(job), label: operation.label, wish: wished };
}

function refusal(asked: WishAsked, reasons: readonly Objection[], nearest: WhatIfAnswer['nearest']): WhatIfAnswer {
  return { ...about(asked), allowed: false, reasons, nearest, moves: [], pickups: [], objective: [] };
}

/** The same wish with its hour as a bound: the first hour found that will do. */
async function nearestTo(
  deps: PlanningDeps,
  book: Book,
  asked: WishAsked,
  without: Draft,
): Promise<WhatIfAnswer['nearest']> {
  const { wish, job } = asked;
  if (wish.startAt === null) return null;
  const later: WishAsked = { ...asked, wish: { ...wish, startAt: null, notBefore: wish.startAt } };
  const drafted = await draftWish(deps, book, later, without, AbortSignal.timeout(PATIENCE_MS));
  if ('reasons' in drafted) return null;
  const planned = drafted.draft.plan.operations.find(
    (each) => each.jobId === job.id && each.operation === wish.operation,
  );
  return planned === undefined ? null : { startAt: planned.start, placeId: planned.placeId };
}
