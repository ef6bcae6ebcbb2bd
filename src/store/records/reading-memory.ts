import { LRUCache } from 'lru-cache';
import type { Amend } from '../contract/written.ts';
import { MOST_CHANGES, OwnChanges } from './own-changes.ts';
import type { Session } from './session.ts';

/** Shops whose readings are remembered at once. */
const MOST_SHOPS = 8;
/** Readings remembered of one shop. */
const MOST_READINGS = 64;

interface Kept {
  /** The count of the shop's changes before it was read. */
  readonly changes: number;
  readonly reading: Promise<unknown>;
}

/** What was read of shops, kept until anything of the shop changes, or amended by what this process changed. */
export class ReadingMemory {
  readonly own = new OwnChanges();
  /** By shop and name. */
  readonly #shops = new LRUCache<string, LRUCache<string, Kept>>({ max: MOST_SHOPS });

  /** What was read under a name at this count of changes, or is read or amended now, once for all who ask meanwhile. */
  find<T>(
    shopId: string,
    changes: number,
    name: string,
    read: () => Promise<T>,
    amend: Amend<T> = () => null,
  ): Promise<T> {
    const readings = this.#of(shopId);
    const known = readings.get(name);
    const reading =
      known === undefined
        ? read()
        : known.changes === changes
          ? (known.reading as Promise<T>)
          : this.#amended(shopId, known, changes, read, amend);
    readings.set(name, { changes, reading });
    this.#forgetOld(readings, changes);
    // What failed is tried again by whoever asks next.
    reading.catch(() => {
      if (readings.peek(name)?.reading === reading) readings.delete(name);
    });
    return reading;
  }

  async #amended<T>(shopId: string, known: Kept, changes: number, read: () => Promise<T>, amend: Amend<T>): Promise<T> {
    const written = await this.own.between(shopId, known.changes, changes);
    const was = written === null ? undefined : await (known.reading as Promise<T>).catch(() => undefined);
    return (was === undefined ? null : amend(was, written!)) ?? read();
  }

  /** What can be amended no more. */
  #forgetOld(readings: LRUCache<string, Kept>, changes: number): void {
    for (const [name, kept] of readings.entries()) if (changes - kept.changes > MOST_CHANGES) readings.delete(name);
  }

  #of(shopId: string): LRUCache<string, Kept> {
    const readings = this.#shops.get(shopId) ?? new LRUCache<string, Kept>({ max: MOST_READINGS });
    this.#shops.set(shopId, readings);
    return readings;
  }
}

/**
 * A reading of one shop, from memory as long as nothing of the shop has changed, here or in another process; after changes of
 * this process alone it is amended. It is counted before it is read: what is remembered may be newer than its count says, and never older.
 */
export async function whileUnchanged<T>(
  session: Session,
  shopId: string,
  name: string,
  read: () => Promise<T>,
  amend?: Amend<T>,
): Promise<T> {
  // What a transaction sees may never be committed.
  if (!session.committed) return read();
  const changes = await session.changesOf(shopId);
  return changes === null ? read() : session.readings.find(shopId, changes, name, read, amend);
}
