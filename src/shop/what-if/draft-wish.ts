import type { Book } from '../../trade/formulate/book.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { type DraftAsk, draftPlan } from '../planning/draft-plan.ts';
import type { Draft } from '../planning/drafter.ts';
import { Busy } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { localClock } from './local-clock.ts';
import { type WishAsked, withWish } from './wish-asked.ts';

/** No search for something better: then what moves, moves for the wish and for nothing else. */
const ONLY_WHAT_MUST = 1;
/** Most reasons told; the first say what matters. */
const MOST_REASONS = 4;

/** Of the cars in the way the first are named. */
const MOST_IN_THE_WAY = 2;

/** A book planned with a wish, or what stands against it. */
export type WishDrafted = { readonly draft: Draft } | { readonly reasons: readonly Objection[] };

/** Plans a book off this thread where there is a drafter, moving as little as can be. */
export function draftBook(deps: PlanningDeps, book: Book, more: Partial<DraftAsk> = {}): Promise<Draft> {
  const ask = { reason: 'what if', workLimit: ONLY_WHAT_MUST, keepPlan: true, ...more };
  const terms = { seed: deps.seed, timeLimitMs: deps.budget.timeLimitMs };
  return deps.drafter?.draft(book, ask, terms) ?? draftPlan(deps, book, ask);
}

/**
 * Plans the book with the wish as something decided: every told hour and every other wish is kept too, apart from what
 * has to be given up without it anyway (`without` is the same book planned without the wish).
 * @throws Busy, PlanRejected
 */
export async function draftWish(
  deps: PlanningDeps,
  book: Book,
  asked: WishAsked,
  without: Draft,
  patience: AbortSignal,
): Promise<WishDrafted> {
  const wished: Book = {
    ...book,
    jobs: book.jobs.map((job) => (job.id === asked.job.id ? withWish(job, asked.wish) : job)),
  };
  let draft: Draft;
  try {
    draft = await draftBook(deps, wished, { keepDecisions: true, signal: patience });
  } catch (problem) {
    if (!(problem instanceof Busy)) throw problem;
    if (patience.aborted) return { reasons: [...inTheWay(wished, asked, without), unfinished].slice(0, MOST_REASONS) };
    if (problem.reasons.length === 0) throw problem;
    const anyway = givenUp(without).size === 0 ? null : await draftBook(deps, wished);
    if (anyway === null || [...givenUp(anyway)].some((text) => !givenUp(without).has(text))) {
      return { reasons: await whyNot(deps, wished, asked, without, problem) };
    }
    draft = anyway;
  }
  const passedOver = draft.notKept.filter(
    ({ jobId, operation }) => jobId === asked.job.id && operation === asked.wish.operation,
  );
  if (passedOver.length > 0) {
    return { reasons: passedOver.map(({ text }) => ({ rule: 'cannot', field: '', text })) };
  }
  return isAsWished(draft, asked) ? { draft } : { reasons: [whyOtherwise(asked)] };
}

const unfinished: Objection = {
  rule: 'unfinished',
  field: '',
  text: 'Within a few seconds no plan was found that holds it. Another hour or place may.',
};

/** What a plan had to give up, cars it had to set aside among them. */
function givenUp({ released, exceptions }: Draft): ReadonlySet<string> {
  const aside = exceptions.filter(({ kind }) => kind === 'planRejected').map(({ text }) => text);
  return new Set([...released, ...aside]);
}

function isAsWished(draft: Draft, { job, wish }: WishAsked): boolean {
  const planned = draft.plan.operations.find((each) => each.jobId === job.id && each.operation === wish.operation);
  return (
    planned !== undefined &&
    (wish.startAt === null || planned.start === wish.startAt) &&
    (wish.notBefore === null || planned.start >= wish.notBefore) &&
    (wish.placeId === null || planned.placeId === wish.placeId) &&
    (wish.personId === null || planned.people.includes(wish.personId))
  );
}

function whyOtherwise({ operation }: WishAsked): Objection {
  const text = `What has happened to the car leaves no choice about "${operation.label}".`;
  return { rule: 'facts', field: 'operation', text };
}

/**
 * Why no plan keeps the wish: rules of the car itself, when it finds no time even with the shop to itself; else the others
 * that stand where it would, and what the search ran into.
 */
async function whyNot(
  deps: PlanningDeps,
  wished: Book,
  asked: WishAsked,
  without: Draft,
  problem: Busy,
): Promise<Objection[]> {
  const jobs = wished.jobs.filter(({ id }) => id === asked.job.id);
  try {
    await draftBook(deps, { ...wished, jobs }, { keepDecisions: true });
  } catch (alone) {
    if (!(alone instanceof Busy) || alone.reasons.length === 0) throw alone;
    return alone.reasons.slice(0, MOST_REASONS).map((each) => ({ ...each, rule: `itself.${each.rule}` }));
  }
  return [...inTheWay(wished, asked, without), ...problem.reasons].slice(0, MOST_REASONS);
}

/** Cars that the plan has in the wished place while the work there would go on. */
function inTheWay(book: Book, { job, operation, wish }: WishAsked, { plan }: Draft): Objection[] {
  const { startAt } = wish;
  const placeId = wish.placeId ?? operation.placeId;
  if (startAt === null || placeId === null) return [];
  const until = startAt + lengthOfStay(plan.operations, operation);
  const name = book.places.find(({ id }) => id === placeId)?.name ?? placeId;
  const clock = (at: number) => localClock(at, book.shop);
  return plan.stays
    .filter((stay) => stay.placeId === placeId && stay.jobId !== job.id && stay.from < until && stay.to > startAt)
    .sort((a, b) => a.from - b.from)
    .slice(0, MOST_IN_THE_WAY)
    .map(({ jobId, from, to }) => {
      const other = book.jobs.find(({ id }) => id === jobId);
      const car = other === undefined ? jobId : carName(other);
      const text = `${car} stands in ${name} from ${clock(from)} to ${clock(to)}, and no plan was found in which it gives way.`;
      return { rule: 'placeTaken', field: 'placeId', text };
    });
}

/** Milliseconds from the start of an operation to the end of the car's work in the same place. */
function lengthOfStay(operations: readonly PlannedOperation[], first: PlannedOperation): number {
  const there = operations.filter(
    (each) => each.jobId === first.jobId && each.placeId === first.placeId && each.start >= first.start,
  );
  return Math.max(first.end, ...there.map(({ end }) => end)) - first.start;
}
