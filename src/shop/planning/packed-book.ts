import { LRUCache } from 'lru-cache';
import type { Book } from '../../trade/formulate/book.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import { toldToCome } from '../../trade/model/told-to-come.ts';
import { type Packed, pack, packInPieces, unpack } from './packed-value.ts';

/** A list in pieces, or one value. */
type Part = readonly Packed<readonly object[]>[] | Packed<object>;

/** A book on its way to another thread: what it holds of objects packed, each part by itself, the rest as it is. */
export interface PackedBook {
  readonly shopId: string;
  readonly parts: Readonly<Record<string, Part>>;
  readonly rest: Partial<Book>;
}

const DAY = 86_400_000;

/** By what the long lists come in pieces: their order follows it. */
const jobsBy = (job: Job) => Math.floor(toldToCome(job) / DAY);
const eventsBy = ({ jobId }: Book['events'][number]) => jobId;
const operationsBy = ({ start }: Plan['operations'][number]) => Math.floor(start / DAY);
const staysBy = ({ from }: Plan['stays'][number]) => Math.floor(from / DAY);

/** Packs what has changed since a book of the same shop was packed last. */
export function packBook({ jobs, events, previousPlan, ...others }: Book): PackedBook {
  const shopId = others.shop.id;
  const lists = ofShop(listsOf, shopId);
  const parts: Record<string, Part> = {
    jobs: packInPieces(jobs, jobsBy),
    events: packInPieces(events, eventsBy),
    ...(previousPlan === null ? {} : packPlan(previousPlan)),
  };
  const rest: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(others)) {
    if (typeof value !== 'object' || value === null) rest[name] = value;
    else parts[name] = pack(Array.isArray(value) ? sameAsBefore(lists, name, value) : value);
  }
  return { shopId, parts, rest };
}

export function unpackBook({ shopId, parts, rest }: PackedBook): Book {
  const before = ofShop(unpackedOf, shopId);
  const now: Unpacked = new Map();
  const unpacked = <T>(packed: Packed<T>): T => {
    const value = before.get(packed.id) ?? unpack(packed as Packed<object>);
    now.set(packed.id, value);
    return value as T;
  };
  const all: Record<string, unknown> = {};
  for (const [name, part] of Object.entries(parts)) {
    all[name] = 'id' in part ? unpacked(part) : part.flatMap(unpacked);
  }
  unpackedOf.set(shopId, now);
  const { about, operations, stays, planned, ...book } = all;
  const previousPlan = about === undefined ? null : { ...about, operations, stays, jobs: planned };
  return { ...rest, ...book, previousPlan } as unknown as Book;
}

function packPlan({ operations, stays, jobs, ...about }: Plan): Record<string, Part> {
  return {
    about: pack(about),
    operations: packInPieces(operations, operationsBy),
    stays: packInPieces(stays, staysBy),
    planned: packInPieces(jobs, () => null),
  };
}

/** Shops whose lists are remembered, on either side. */
const MOST_SHOPS = 4;

/** Lists packed last, by shop and name: the store gives the same documents in new lists. */
const listsOf = new LRUCache<string, Map<string, readonly unknown[]>>({ max: MOST_SHOPS });

function sameAsBefore(lists: Map<string, readonly unknown[]>, name: string, list: readonly unknown[]): object {
  const before = lists.get(name);
  if (before?.length === list.length && before.every((each, k) => each === list[k])) return before;
  lists.set(name, list);
  return list;
}

type Unpacked = Map<number, object>;

/** What the book of a shop was made of when it was unpacked last in this thread: it is read only, and most of it comes again. */
const unpackedOf = new LRUCache<string, Unpacked>({ max: MOST_SHOPS });

function ofShop<K, V>(shops: LRUCache<string, Map<K, V>>, shopId: string): Map<K, V> {
  const known = shops.get(shopId) ?? new Map<K, V>();
  shops.set(shopId, known);
  return known;
}
