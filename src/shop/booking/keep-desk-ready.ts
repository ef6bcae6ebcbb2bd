import type { ShopId } from '../../trade/model/ids.ts';
import type { Log } from '../deps.ts';
import { type DeskAndStore, openAtDesk, sinceQuoted } from './open-at-desk.ts';
import { MOST_OPEN } from './resident-books.ts';

export interface DeskReady {
  /** Resolves when no book is being opened or about to be. */
  settled(): Promise<void>;
  stop(): Promise<void>;
}

/** After a book was opened the desk has so many times as long for questions, before it opens it again. */
const REST = 2;
/** Somebody who asked so lately is on the telephone still, and asks again: meanwhile the book that is open is good enough. */
const CONVERSATION_MS = 3_000;
/** News is put off no longer than this, which is less than a book may be behind. */
const LONGEST_PUT_OFF_MS = 20_000;

/**
 * Opens a shop's book at the desk once its news has been quiet for a moment, so that nobody on the telephone waits for it; a large
 * one less often while the floor works, and while somebody asks for one quote after another not at once. As many shops as the desk
 * holds open; the others are opened when somebody asks.
 */
export function keepDeskReady(deps: DeskAndStore & { readonly log: Log }, quietMs: number): DeskReady {
  const timers = new Map<ShopId, NodeJS.Timeout>();
  const heardAt = new Map<ShopId, number>();
  const opening = new Set<Promise<void>>();
  const known = new Set<ShopId>();
  /** By the clock that never jumps. */
  let restsUntil = 0;

  const open = async (shopId: ShopId) => {
    const began = performance.now();
    try {
      await openAtDesk(deps, shopId);
    } catch (err) {
      // Whoever asks next opens it then.
      deps.log.warn({ err, shopId }, 'the desk’s book was not opened ahead');
    }
    const ended = performance.now();
    restsUntil = ended + REST * (ended - began);
  };
  const hear = (shopId: ShopId) => {
    if (!known.has(shopId) && known.size >= MOST_OPEN) return;
    known.add(shopId);
    const now = performance.now();
    if (!heardAt.has(shopId)) heardAt.set(shopId, now);
    wait(shopId, Math.max(quietMs, restsUntil - now));
  };
  const wait = (shopId: ShopId, ms: number) => {
    clearTimeout(timers.get(shopId));
    const timer = setTimeout(() => {
      const left = CONVERSATION_MS - sinceQuoted(deps.desk, shopId);
      const mayWait = performance.now() - (heardAt.get(shopId) ?? 0) < LONGEST_PUT_OFF_MS;
      if (left > 0 && mayWait) return wait(shopId, left);
      timers.delete(shopId);
      heardAt.delete(shopId);
      const running: Promise<void> = open(shopId).finally(() => opening.delete(running));
      opening.add(running);
    }, ms);
    timers.set(shopId, timer);
  };
  const stopHearing = deps.store.onOutbox(hear);

  const settled = async () => {
    while (timers.size > 0 || opening.size > 0) {
      await Promise.all(opening);
      if (timers.size > 0) await new Promise((resolve) => setTimeout(resolve, quietMs));
    }
  };
  return {
    settled,
    async stop() {
      stopHearing();
      for (const timer of timers.values()) clearTimeout(timer);
      timers.clear();
      await Promise.all(opening);
    },
  };
}
