import type { ShopId } from '../../trade/model/ids.ts';
import type { AirZone, Place, Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';

/** A stored document with the version that an ETag carries. Versions start at 1 and grow by 1 with each write. */
export interface Versioned<T> {
  readonly value: T;
  readonly version: number;
  readonly updatedAt: Instant;
}

/**
 * What a write expects to find: `'new'` nothing yet, a number that very version, `'any'` whatever is there (or nothing).
 * `'any'` is for seeds and imports; a request that changes something passes the version it read.
 */
export type Expected = 'new' | 'any' | number;

/** Documents of one kind, each in a shop, keyed by shop and id. */
export interface Collection<Id extends string, T> {
  /** All of the shop's, by id. */
  list(shopId: ShopId): Promise<Versioned<T>[]>;
  get(shopId: ShopId, id: Id): Promise<Versioned<T> | null>;
  /** Which of these there are, in one query. */
  known(shopId: ShopId, ids: readonly Id[]): Promise<ReadonlySet<Id>>;
  /**
   * Writes the whole document.
   * @throws StaleVersion, AlreadyExists, NotFound, UnknownReference (names the field), InvalidDocument
   */
  put(shopId: ShopId, value: T, expected: Expected): Promise<Versioned<T>>;
  /** @throws StaleVersion, NotFound, StillReferenced (names what points to it) */
  delete(shopId: ShopId, id: Id, expected: number | 'any'): Promise<void>;
}

/** Shops themselves: as a collection, without a shop around them. */
export interface Shops {
  list(): Promise<Versioned<Shop>[]>;
  get(shopId: ShopId): Promise<Versioned<Shop> | null>;
  /** @throws StaleVersion, AlreadyExists, NotFound, InvalidDocument */
  put(shop: Shop, expected: Expected): Promise<Versioned<Shop>>;
  /** @throws StaleVersion, NotFound, StillReferenced */
  delete(shopId: ShopId, expected: number | 'any'): Promise<void>;
}

export type AirZones = Collection<AirZone['id'], AirZone>;
export type Places = Collection<Place['id'], Place>;
