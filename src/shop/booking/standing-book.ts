import type { NumberedEvent, Store } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { FloorFact, Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { isLive, loadBook } from '../planning/load-book.ts';
import { withLessons } from '../promises/floor-lessons.ts';
import type { NewsKind } from '../records/tell.ts';
import type { StandingBook } from './desk.ts';

/** A book so old is loaded anew: the clock alone changes what is late and what cures. */
const OLDEST_MS = 5 * 60_000;
/** News read at once; a book about which more was told is simply loaded anew. */
export const MOST_NEWS = 100;

/** News that changes nothing a plan is made from, beside what was noted only. */
const OF_NO_CONSEQUENCE: ReadonlySet<string> = new Set<NewsKind>([
  'promise.atRisk',
  'promise.safeAgain',
  'exception.raised',
  'exception.acknowledged',
  'photo.kept',
  'photo.deleted',
  'message.settled',
  'link.changed',
]);

interface Kept {
  readonly standing: StandingBook;
  readonly planVersion: number;
  /** The last news that was looked at. */
  sequence: number;
}

const keptOf = new WeakMap<Store, Map<ShopId, Kept>>();

/**
 * The book as it stands, loaded only when something has changed since it was last asked for: whatever changes a book
 * writes news into the outbox with it. It may be minutes old by the clock. @throws NotFound (shop)
 */
export async function standingBook(store: Store, shopId: ShopId, now: Instant): Promise<StandingBook> {
  const books = keptOf.get(store) ?? new Map<ShopId, Kept>();
  keptOf.set(store, books);
  const known = books.get(shopId);
  if (known !== undefined && isFresh(known.standing, now) && (await standsStill(store, shopId, known)))
    return known.standing;
  const sequence = await store.outbox.lastSequence(shopId);
  const book = await withLessons(store, await loadBook(store, shopId, now));
  const planVersion = book.previousPlan?.version ?? 0;
  const standing = { shopId, key: `${sequence} ${planVersion} ${now}`, sequence, book };
  books.set(shopId, { standing, planVersion, sequence });
  return standing;
}

/**
 * Tells the desk's book of a car that was just sold from it, so that it need not be loaded and opened anew. Nothing when
 * anything else was told of the shop meanwhile: then it is.
 */
export async function noteSale(store: Store, before: StandingBook, job: Job, plan: Plan): Promise<void> {
  const { shopId } = before;
  const known = keptOf.get(store)?.get(shopId);
  if (known?.standing !== before || plan.version !== known.planVersion + 1) return;
  const news = await store.outbox.listAfter(shopId, known.sequence, MOST_NEWS);
  const own = news.filter(
    ({ kind, subject }) =>
      (kind === 'job.changed' && subject === job.id) || (kind === 'plan.published' && subject === String(plan.version)),
  );
  if (own.length !== 2 || news.some((each) => !own.includes(each) && hasConsequence(each))) return;
  const sequence = news.at(-1)!.sequence;
  const book = { ...before.book, jobs: [...before.book.jobs, job], previousPlan: plan };
  const sold = { key: before.key, jobId: job.id, plan };
  const standing = { shopId, key: `${sequence} ${plan.version} ${book.now}`, sequence, book, sold };
  keptOf.get(store)!.set(shopId, { standing, planVersion: plan.version, sequence });
}

/** Whether news changes what a plan is made from. */
export function hasConsequence({ kind, body }: NumberedEvent): boolean {
  if (kind !== 'fact.recorded') return !OF_NO_CONSEQUENCE.has(kind);
  return (body as { readonly fact: FloorFact }).fact.kind !== 'noted';
}

export function isFresh({ book }: StandingBook, now: Instant): boolean {
  return now >= book.now && now - book.now <= OLDEST_MS && book.jobs.every((job) => isLive(job, now));
}

async function standsStill(store: Store, shopId: ShopId, kept: Kept): Promise<boolean> {
  if ((await store.plans.currentVersion(shopId)) !== kept.planVersion) return false;
  const news = await store.outbox.listAfter(shopId, kept.sequence, MOST_NEWS);
  if (news.length === MOST_NEWS || news.some(hasConsequence)) return false;
  kept.sequence = news.at(-1)?.sequence ?? kept.sequence;
  return true;
}
