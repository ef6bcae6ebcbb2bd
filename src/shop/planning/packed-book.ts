import { deserialize, serialize } from 'node:v8';
import type { Book } from '../../trade/formulate/book.ts';

/** A value written out once, in memory that every thread reads: sending it to one more thread costs nothing. */
export interface Packed<T> {
  readonly bytes: Uint8Array<SharedArrayBuffer>;
  /** Never given to another value of this process. The type of what is packed is in it for the compiler alone. */
  readonly id: number & { readonly of?: T };
}

/** A book on its way to another thread: what it holds of objects packed, each part by itself, the rest as it is. */
export interface PackedBook {
  readonly parts: readonly { readonly name: keyof Book; readonly packed: Packed<object> }[];
  readonly rest: Partial<Book>;
}

/** Shops whose lists are remembered, on either side. */
const MOST_SHOPS = 4;

const packedOf = new WeakMap<object, Packed<object>>();
let ids = 0;

/** Packs a value that is not changed any more; the same value is packed once. */
export function pack<T extends object>(value: T): Packed<T> {
  const known = packedOf.get(value);
  if (known !== undefined) return known as Packed<T>;
  const written = serialize(value);
  const bytes = new Uint8Array(new SharedArrayBuffer(written.length));
  bytes.set(written);
  const packed = { bytes, id: ++ids };
  packedOf.set(value, packed);
  return packed;
}

export function unpack<T>({ bytes }: Packed<T>): T {
  return deserialize(bytes) as T;
}

/** Lists packed last, by shop and name: the store gives the same documents in new lists. */
const listsOf = new Map<string, Map<string, readonly unknown[]>>();

/** Packs what has changed since a book of the same shop was packed last. */
export function packBook(book: Book): PackedBook {
  const lists = ofShop(listsOf, book.shop.id);
  const parts: { name: keyof Book; packed: Packed<object> }[] = [];
  const rest: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(book) as [keyof Book, unknown][]) {
    if (typeof value !== 'object' || value === null) rest[name] = value;
    else parts.push({ name, packed: pack(Array.isArray(value) ? sameAsBefore(lists, name, value) : value) });
  }
  return { parts, rest };
}

function sameAsBefore(lists: Map<string, readonly unknown[]>, name: string, list: readonly unknown[]): object {
  const before = lists.get(name);
  if (before?.length === list.length && before.every((each, k) => each === list[k])) return before;
  lists.set(name, list);
  return list;
}

/** Parts unpacked last in this thread, by shop and name: they are read only, and most of them come again. */
const unpackedOf = new Map<string, Map<string, { readonly id: number; readonly value: object }>>();

export function unpackBook({ parts, rest }: PackedBook): Book {
  const shop = parts.find(({ name }) => name === 'shop')!;
  const { id } = unpack(shop.packed) as Book['shop'];
  const known = ofShop(unpackedOf, id);
  const book: Record<string, unknown> = { ...rest };
  for (const { name, packed } of parts) {
    let part = known.get(name);
    if (part?.id !== packed.id) {
      part = { id: packed.id, value: unpack(packed) };
      known.set(name, part);
    }
    book[name] = part.value;
  }
  return book as unknown as Book;
}

/** The shop asked for last goes to the end of the line; the one asked for longest ago is forgotten. */
function ofShop<K, V>(shops: Map<string, Map<K, V>>, shopId: string): Map<K, V> {
  const known = shops.get(shopId) ?? new Map<K, V>();
  shops.delete(shopId);
  shops.set(shopId, known);
  if (shops.size > MOST_SHOPS) shops.delete(shops.keys().next().value!);
  return known;
}
