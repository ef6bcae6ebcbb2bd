import { changesOf } from '../connection/change-count.ts';
import type { Session } from './session.ts';

/** Shops whose readings are remembered at once. */
const MOST_SHOPS = 8;
/** Readings remembered of one shop. */
const MOST_READINGS = 64;

interface OfShop {
  /** The count of the shop's changes before these were read. */
  readonly changes: number;
  /** By name, the longest unasked first. */
  readonly readings: Map<string, Promise<unknown>>;
}

/** What was read of shops, kept until anything of the shop changes. */
export class ReadingMemory {
  /** The longest unasked first. */
  readonly #shops = new Map<string, OfShop>();

  /** What was read under a name at this count of changes, or `read` now, once for all who ask meanwhile. */
  find<T>(shopId: string, changes: number, name: string, read: () => Promise<T>): Promise<T> {
    const { readings } = this.#of(shopId, changes);
    const reading = (readings.get(name) as Promise<T> | undefined) ?? read();
    readings.delete(name);
    readings.set(name, reading);
    if (readings.size > MOST_READINGS) readings.delete(readings.keys().next().value!);
    // What failed is tried again by whoever asks next.
    reading.catch(() => {
      if (readings.get(name) === reading) readings.delete(name);
    });
    return reading;
  }

  #of(shopId: string, changes: number): OfShop {
    const known = this.#shops.get(shopId);
    const shop = known?.changes === changes ? known : { changes, readings: new Map<string, Promise<unknown>>() };
    this.#shops.delete(shopId);
    this.#shops.set(shopId, shop);
    if (this.#shops.size > MOST_SHOPS) this.#shops.delete(this.#shops.keys().next().value!);
    return shop;
  }
}

/**
 * A reading of one shop, from memory as long as nothing of the shop has changed, here or in another process. It is counted before it
 * is read: what is remembered may be newer than its count says, and never older.
 */
export async function whileUnchanged<T>(
  session: Session,
  shopId: string,
  name: string,
  read: () => Promise<T>,
): Promise<T> {
  // What a transaction sees may never be committed.
  if (!session.committed) return read();
  const changes = await changesOf(session.reader, shopId);
  return changes === null ? read() : session.readings.find(shopId, changes, name, read);
}
