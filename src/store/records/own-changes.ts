import { LRUCache } from 'lru-cache';
import type { KnownWritten, Written } from '../contract/written.ts';

/** Shops whose changes are remembered at once. */
const MOST_SHOPS = 64;
/** Changes remembered of one shop; whoever is further behind reads anew. */
export const MOST_CHANGES = 256;

/**
 * What this process's own transactions wrote, by the count of changes that each was given under its shop's lock. A count that another process
 * was given is missing here, and nothing can be said of what came with it.
 */
export class OwnChanges {
  /** By shop and count. */
  readonly #shops = new LRUCache<string, Map<number, readonly Written[] | Promise<void>>>({ max: MOST_SHOPS });

  /** A transaction with this count is about to be committed; `settled` resolves once it is, or once it has failed. */
  committing(shopId: string, count: number, settled: Promise<void>): void {
    this.#of(shopId).set(count, settled);
  }

  committed(shopId: string, count: number, written: readonly Written[]): void {
    const changes = this.#of(shopId);
    changes.set(count, written);
    if (changes.size > MOST_CHANGES) changes.delete(changes.keys().next().value!);
  }

  /** The count is another's, should one be given it again. */
  failed(shopId: string, count: number): void {
    this.#of(shopId).delete(count);
  }

  /** All that was written after one count up to another; null when that cannot be told, or may be anything. */
  async between(shopId: string, after: number, upTo: number): Promise<readonly KnownWritten[] | null> {
    if (upTo < after || upTo - after > MOST_CHANGES) return null;
    const all: KnownWritten[] = [];
    for (let count = after + 1; count <= upTo; count += 1) {
      const noted = () => this.#shops.peek(shopId)?.get(count);
      // Others see what is committed before this process has heard so.
      await noted();
      const written = noted();
      if (written === undefined || written instanceof Promise) return null;
      for (const each of written) {
        if (each.what === 'anything') return null;
        all.push(each);
      }
    }
    return all;
  }

  #of(shopId: string): Map<number, readonly Written[] | Promise<void>> {
    const changes = this.#shops.get(shopId) ?? new Map<number, readonly Written[] | Promise<void>>();
    this.#shops.set(shopId, changes);
    return changes;
  }
}
