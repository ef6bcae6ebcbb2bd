import { deserialize, serialize } from 'node:v8';

/** A value written out once, in memory that every thread reads: sending it to one more thread costs nothing. */
export interface Packed<T> {
  readonly bytes: Uint8Array<SharedArrayBuffer>;
  /** Never given to another value of this process. The type of what is packed is in it for the compiler alone. */
  readonly id: number & { readonly of?: T };
}

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

/** The piece packed last that begins with an element. */
const piecesOf = new WeakMap<object, readonly object[]>();

/**
 * Packs a list in pieces, each of neighbours with the same key: of a list of which little has changed little is packed anew,
 * though it is another list.
 */
export function packInPieces<T extends object>(
  list: readonly T[],
  keyOf: (each: T) => unknown,
): Packed<readonly T[]>[] {
  const pieces: Packed<readonly T[]>[] = [];
  for (let from = 0; from < list.length; ) {
    const key = keyOf(list[from]!);
    let to = from + 1;
    while (to < list.length && keyOf(list[to]!) === key) to += 1;
    pieces.push(pack(asBefore(list.slice(from, to))));
    from = to;
  }
  return pieces;
}

function asBefore<T extends object>(piece: readonly T[]): readonly T[] {
  const before = piecesOf.get(piece[0]!) as readonly T[] | undefined;
  if (before?.length === piece.length && before.every((each, k) => each === piece[k])) return before;
  piecesOf.set(piece[0]!, piece);
  return piece;
}
