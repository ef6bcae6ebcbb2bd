import { NEVER } from '../calendar/never.ts';

const BEFORE = -NEVER;

/**
 * Step functions of time, one a row: how much of a person is in use, how many cars hold a place, how many spans of
 * open coating there are in a zone. Adding an amount and later adding its negative restores the row exactly, so
 * every change can be undone in any order. Questions cost a binary search plus the steps they look at.
 */
export class Levels {
  readonly #at: Int32Array[] = [];
  readonly #level: Int32Array[] = [];
  readonly #size: number[] = [];
  /** By row, the step asked for last: questions come in about the order of time. */
  readonly #last: number[] = [];

  constructor(rows: number) {
    for (let row = 0; row < rows; row++) this.addRow();
  }

  addRow(): number {
    const at = new Int32Array(8);
    at[0] = BEFORE;
    this.#at.push(at);
    this.#level.push(new Int32Array(8));
    this.#size.push(1);
    this.#last.push(0);
    return this.#at.length - 1;
  }

  /** Adds `amount` (which may be negative) over [from, to). */
  add(row: number, from: number, to: number, amount: number): void {
    if (from >= to || amount === 0) return;
    if (this.#size[row]! + 2 > this.#at[row]!.length) this.#grow(row);
    const at = this.#at[row]!;
    const level = this.#level[row]!;
    let size = this.#size[row]!;
    let first = this.#stepAt(row, from);
    if (at[first] !== from) {
      first++;
      makeRoomAt(at, first, size);
      makeRoomAt(level, first, size);
      at[first] = from;
      level[first] = level[first - 1]!;
      size++;
    }
    let last = first;
    while (last < size && at[last]! < to) {
      level[last] = level[last]! + amount;
      last++;
    }
    if (to < NEVER && (last === size || at[last] !== to)) {
      makeRoomAt(at, last, size);
      makeRoomAt(level, last, size);
      at[last] = to;
      level[last] = level[last - 1]! - amount;
      size++;
    }
    if (last < size && level[last] === level[last - 1]) {
      closeUpAt(at, last, size);
      closeUpAt(level, last, size);
      size--;
    }
    if (first > 0 && level[first] === level[first - 1]) {
      closeUpAt(at, first, size);
      closeUpAt(level, first, size);
      size--;
    }
    this.#size[row] = size;
  }

  /** The end of the last step that meets [from, to) and stands above `room`; -1 when none does. */
  lastAbove(row: number, from: number, to: number, room: number): number {
    if (from >= to) return -1;
    const at = this.#at[row]!;
    const level = this.#level[row]!;
    const size = this.#size[row]!;
    for (let k = this.#stepAt(row, to - 1); k >= 0; k--) {
      if (level[k]! > room) return k + 1 < size ? at[k + 1]! : NEVER;
      if (at[k]! <= from) break;
    }
    return -1;
  }

  /** The earliest t >= from such that no step that meets [t, t + minutes) stands above `room`. */
  nextRoom(row: number, from: number, minutes: number, room: number): number {
    const at = this.#at[row]!;
    const level = this.#level[row]!;
    const size = this.#size[row]!;
    let start = from;
    for (let k = this.#stepAt(row, from); k < size && at[k]! < start + minutes; k++) {
      if (level[k]! > room) {
        if (k + 1 === size) return NEVER;
        start = at[k + 1]!;
      }
    }
    return start;
  }

  /** The earliest t >= from at which a step above `room` holds; NEVER when none does. */
  nextAbove(row: number, from: number, room: number): number {
    const at = this.#at[row]!;
    const level = this.#level[row]!;
    const size = this.#size[row]!;
    for (let k = this.#stepAt(row, from); k < size; k++) {
      if (level[k]! > room) return Math.max(from, at[k]!);
    }
    return NEVER;
  }

  levelAt(row: number, minute: number): number {
    return this.#level[row]![this.#stepAt(row, minute)]!;
  }

  /** The steps of a row, for reading by people and tests: [from, level], from the first on. */
  steps(row: number): [number, number][] {
    return Array.from({ length: this.#size[row]! }, (_, k) => [this.#at[row]![k]!, this.#level[row]![k]!]);
  }

  /** The step in force at `minute`. */
  #stepAt(row: number, minute: number): number {
    const at = this.#at[row]!;
    const size = this.#size[row]!;
    const last = this.#last[row]!;
    if (last < size && at[last]! <= minute && (last + 1 === size || minute < at[last + 1]!)) return last;
    let low = 1;
    let high = size;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (at[middle]! <= minute) low = middle + 1;
      else high = middle;
    }
    this.#last[row] = low - 1;
    return low - 1;
  }

  #grow(row: number): void {
    const at = new Int32Array(this.#at[row]!.length * 2);
    const level = new Int32Array(at.length);
    at.set(this.#at[row]!);
    level.set(this.#level[row]!);
    this.#at[row] = at;
    this.#level[row] = level;
  }
}

/** Fewer steps than these are moved sooner one by one than all at once. */
const FEW = 24;

/** Moves what is at `index` and after it, up to `size`, one further. */
function makeRoomAt(array: Int32Array, index: number, size: number): void {
  if (size - index > FEW) array.copyWithin(index + 1, index, size);
  else for (let k = size; k > index; k--) array[k] = array[k - 1]!;
}

/** Moves what comes after `index`, up to `size`, over it. */
function closeUpAt(array: Int32Array, index: number, size: number): void {
  if (size - index > FEW) array.copyWithin(index, index + 1, size);
  else for (let k = index + 1; k < size; k++) array[k - 1] = array[k]!;
}
