import type { NumberedEvent, Store } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Clock } from '../deps.ts';
import type { NewsKind } from '../records/tell.ts';
import type { Desk, StandingBook, WhichBook } from './desk.ts';
import { hasConsequence, isFresh, MOST_NEWS, standingBook } from './standing-book.ts';

/** So long after the floor told something a book from before is as good to quote from as any. */
const HARDLY_BEHIND_MS = 30_000;
/** And so long while it is being opened anew: whoever waits for that holds up whoever asks next. */
const LONGEST_BEHIND_MS = 2 * 60_000;

/** News that leaves the same cars in a book: what the floor tells, and the plans that follow it. */
const OF_THE_SAME_CARS: ReadonlySet<string> = new Set<NewsKind>(['fact.recorded', 'plan.published']);
/** So are states that only the floor gives to a car. */
const TOLD_BY_THE_FLOOR: ReadonlySet<unknown> = new Set(['inShop', 'done']);

export interface DeskAndStore {
  readonly store: Store;
  readonly desk: Desk;
  readonly clock: Clock;
}

/** By the clock that never jumps. */
const quotedAt = new WeakMap<Desk, Map<ShopId, number>>();
const heardSince = new WeakMap<StandingBook, { sequence: number; readonly missed: NumberedEvent[] }>();
const openings = new WeakMap<Desk, Map<ShopId, Promise<void>>>();

/** Opens a shop's book at the desk as it stands. Whoever asks while it is being opened waits for the same. @throws NotFound (shop), Busy */
export function openAtDesk({ store, desk, clock }: DeskAndStore, shopId: ShopId): Promise<void> {
  const ofDesk = openings.get(desk) ?? new Map<ShopId, Promise<void>>();
  openings.set(desk, ofDesk);
  const underWay = ofDesk.get(shopId);
  if (underWay !== undefined) return underWay;
  const opening = (async () => {
    const standing = await standingBook(store, shopId, clock());
    await desk.ask(standing, { kind: 'open' });
  })().finally(() => ofDesk.delete(shopId));
  ofDesk.set(shopId, opening);
  return opening;
}

/** A book to quote from, and whether one opened since does as well. */
export interface QuoteBook {
  readonly standing: StandingBook;
  readonly which: WhichBook;
}

/**
 * A book to quote from: the one the desk has open, though the floor has told something since, if that is not long ago. While the
 * floor works a large book is opened anew again and again, and nobody on the telephone should wait for each of them; whoever
 * holds a slot is answered from the book as it stands. @throws NotFound (shop), Busy
 */
export async function bookToQuoteFrom(deps: DeskAndStore, shopId: ShopId): Promise<QuoteBook> {
  const ofDesk = quotedAt.get(deps.desk) ?? new Map<ShopId, number>();
  quotedAt.set(deps.desk, ofDesk.set(shopId, performance.now()));
  const open = await openBook(deps, shopId);
  if (open !== null && open.behindMs <= HARDLY_BEHIND_MS) return { standing: open.standing, which: 'orSince' };
  const opening = openAtDesk(deps, shopId);
  if (open !== null && open.behindMs <= LONGEST_BEHIND_MS) {
    // Whoever asks once it would be too far behind hears why it cannot be opened.
    opening.catch(() => undefined);
    return { standing: open.standing, which: 'orSince' };
  }
  await opening;
  const opened = await openBook(deps, shopId);
  if (opened !== null) return { standing: opened.standing, which: 'orSince' };
  return { standing: await standingBook(deps.store, shopId, deps.clock()), which: 'this' };
}

/** Milliseconds since somebody last asked a shop's desk for a quote; infinite when nobody has. */
export function sinceQuoted(desk: Desk, shopId: ShopId): number {
  return performance.now() - (quotedAt.get(desk)?.get(shopId) ?? Number.NEGATIVE_INFINITY);
}

/** The book that is open, and since when the floor has told what it does not know; null when none is, or it lacks a car or has one too many. */
async function openBook({ store, desk, clock }: DeskAndStore, shopId: ShopId) {
  const standing = desk.openNow(shopId);
  const now = clock();
  if (standing === null || !isFresh(standing, now)) return null;
  const missed = await missedBy(standing, store);
  if (!missed.every((each) => leavesTheSameCars(each, standing))) return null;
  return { standing, behindMs: now - (missed[0]?.at ?? now) };
}

/** News with consequences that an open book does not know, oldest first. What was looked through once is not read again. */
async function missedBy(open: StandingBook, store: Store): Promise<readonly NumberedEvent[]> {
  const heard = heardSince.get(open) ?? { sequence: open.sequence, missed: [] };
  heardSince.set(open, heard);
  for (;;) {
    const news = await store.outbox.listAfter(open.shopId, heard.sequence, MOST_NEWS);
    for (const each of news) {
      // Another question may have read it meanwhile.
      if (each.sequence <= heard.sequence) continue;
      heard.sequence = each.sequence;
      if (hasConsequence(each)) heard.missed.push(each);
    }
    if (news.length < MOST_NEWS) return heard.missed;
  }
}

function leavesTheSameCars({ kind, subject, body }: NumberedEvent, { book }: StandingBook): boolean {
  if (OF_THE_SAME_CARS.has(kind)) return true;
  const { state } = body as { readonly state?: unknown };
  return kind === 'job.changed' && TOLD_BY_THE_FLOOR.has(state) && book.jobs.some(({ id }) => id === subject);
}
