import type { ShopId } from '../trade/model/ids.ts';
import type { Connection } from './connection/connection.ts';

/** Tells listeners that a shop's outbox grew: here after the commit, or in another process. */
export class OutboxWakes {
  readonly #connection: Connection;
  readonly #listeners = new Set<(shopId: ShopId) => void>();
  #stopHearing: (() => void) | undefined;

  constructor(connection: Connection) {
    this.#connection = connection;
  }

  add(listener: (shopId: ShopId) => void): () => void {
    this.#listeners.add(listener);
    this.#stopHearing ??= this.#connection.listen((shopId) => {
      if (shopId === null) void this.#tellAll();
      else this.tell(shopId as ShopId);
    });
    return () => {
      this.#listeners.delete(listener);
      if (this.#listeners.size === 0) this.stop();
    };
  }

  tell(shopId: ShopId): void {
    for (const listener of this.#listeners) listener(shopId);
  }

  stop(): void {
    this.#stopHearing?.();
    this.#stopHearing = undefined;
  }

  async #tellAll(): Promise<void> {
    try {
      const shops = await this.#connection.reader.shop.findMany({ select: { id: true } });
      for (const { id } of shops) this.tell(id as ShopId);
    } catch {
      // The connection broke again; the next one tells.
    }
  }
}
