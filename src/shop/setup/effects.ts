import type { Book } from '../../trade/formulate/book.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { PlanningDeps } from '../deps.ts';
import { type DraftPlan, draftPlan } from '../planning/draft-plan.ts';
import { loadBook } from '../planning/load-book.ts';
import { Busy, Refused } from '../problems/problems.ts';
import { hoursObjections } from './hours-objections.ts';
import { type PlanDifferences, planDifferences } from './plan-differences.ts';
import type { SetupKind } from './setup-kind.ts';
import { type OutsideHours, toldOutsideHours } from './told-outside-hours.ts';

/** What a change of the shop's data would do to the book, before it is made. */
export interface Effects extends PlanDifferences {
  /** Version of the plan that stands. */
  readonly planVersion: number;
  /** False when no plan was found for the shop as it would be; `why` says what is known of the reason. */
  readonly plannable: boolean;
  /** True when it is proved that no plan breaks fewer promises; else a longer search might keep some of them. */
  readonly proved: boolean;
  readonly why: string;
  /** Hours told to customers at which the shop would be closed; they stay told, somebody has to be there. */
  readonly outsideHours: readonly OutsideHours[];
}

type Thing = { readonly id: string };

/** What writing one of a kind would do. Nothing is stored. @throws NotFound (shop), Refused, Busy */
export async function effectsOfPut<T extends Thing>(
  deps: PlanningDeps,
  kind: SetupKind<T>,
  input: { readonly shopId: ShopId; readonly value: T },
): Promise<Effects> {
  const { shopId, value } = input;
  const objections = await kind.objections(value, deps.store, shopId);
  if (objections.length > 0) throw new Refused(`The ${kind.what} contradicts itself or the shop.`, objections);
  return effectsOf(deps, shopId, (book) => withList(book, kind, (things) => [...without(things, value.id), value]));
}

/** What removing one of a kind would do. Nothing is stored. @throws NotFound (shop), Busy */
export async function effectsOfRemoval<T extends Thing>(
  deps: PlanningDeps,
  kind: SetupKind<T>,
  input: { readonly shopId: ShopId; readonly id: T['id'] },
): Promise<Effects> {
  return effectsOf(deps, input.shopId, (book) => withList(book, kind, (things) => without(things, input.id)));
}

/** What a change of the shop itself would do. Nothing is stored. @throws NotFound (shop), Refused, Busy */
export async function effectsOfShop(deps: PlanningDeps, input: { readonly shop: Shop }): Promise<Effects> {
  const { shop } = input;
  const objections = hoursObjections(shop.hours, 'hours', shop.exceptions, 'exceptions');
  if (objections.length > 0) throw new Refused('The shop contradicts itself.', objections);
  return effectsOf(deps, shop.id, (book) => ({ ...book, shop }));
}

function withList<T extends Thing>(book: Book, kind: SetupKind<T>, change: (things: readonly T[]) => T[]): Book {
  const changed = change(book[kind.inBook] as unknown as readonly T[]);
  return { ...book, [kind.inBook]: changed.sort((a, b) => (a.id < b.id ? -1 : 1)) };
}

function without<T extends Thing>(things: readonly T[], id: string): T[] {
  return things.filter((thing) => thing.id !== id);
}

/**
 * Plans the book twice from the plan that stands, with the same seed and effort, as the shop is and as it would be: so
 * the difference is the change's, and not that of a plan that was searched longer.
 */
async function effectsOf(deps: PlanningDeps, shopId: ShopId, change: (book: Book) => Book): Promise<Effects> {
  const book = await loadBook(deps.store, shopId, deps.clock());
  const ask = { reason: 'effects of a change', workLimit: deps.budget.thoroughWork, keepPlan: true };
  const before = await draftPlan(deps, book, ask);
  const changed = change(book);
  const outsideBefore = new Set(toldOutsideHours(book).map(({ jobId, what }) => `${jobId} ${what}`));
  const outsideHours = toldOutsideHours(changed).filter(({ jobId, what }) => !outsideBefore.has(`${jobId} ${what}`));
  let after: DraftPlan;
  try {
    after = await draftPlan(deps, changed, ask);
  } catch (problem) {
    if (!(problem instanceof Busy)) throw problem;
    return { ...nothing(book), outsideHours, plannable: false, why: problem.message };
  }
  return { ...nothing(book), outsideHours, proved: isProved(after), ...planDifferences(before, after) };
}

function nothing(book: Book): Effects {
  return {
    planVersion: book.previousPlan?.version ?? 0,
    plannable: true,
    proved: false,
    why: '',
    promises: [],
    moved: [],
    leftOut: [],
    outsideHours: [],
    released: [],
  };
}

function isProved({ plan }: DraftPlan): boolean {
  const broken = plan.objective.find(({ tier }) => tier === 'broken');
  return broken !== undefined && broken.value <= broken.bound;
}
