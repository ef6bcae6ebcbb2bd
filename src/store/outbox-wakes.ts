import type { ShopId } from '../trade/model/ids.ts';
import type { Connection } from './connection/connection.ts';
import type { StoreOptions } from './store.ts';

/** Tells listeners that a shop's outbox grew: here after the commit, or in another process. */
export class OutboxWakes {
  readonly #connection: Connection;
  readonly #listeners = new Set<(shopId: ShopId) => void>();
  readonly #logger: StoreOptions['logger'];
  #stopHearing: (() => void) | undefined;

  constructor(connection: Connection, logger?: StoreOptions['logger']) {
    this.#connection = connection;
    this.#logger = logger;
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
    for (const listener of this.#listeners) {
      try {
        listener(shopId);
      } catch (error) {
        // What it should hear of is committed; its failure is not the writer's.
        this.#logger?.warn({ err: error, shopId }, 'a listener to the outbox failed');
      }
    }
  }

  stop(): void {
    this.#stopHearing?.();
    this.#stopHearing = undefined;
  }

  async #tellAll(): Promise<void> {
    try {
      const shops = await this.#connection.client.shop.findMany({ select: { id: true } });
      for (const { id } of shops) this.tell(id as ShopId);
    } catch {
      // The connection broke again; the next one tells.
    }
  }
}
