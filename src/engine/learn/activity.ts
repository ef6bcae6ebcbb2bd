import { type Bounds, doubled } from './bounds.ts';

/**
 * Which literals have lately taken part in conflicts, as a heap to take decisions from.
 *
 * A literal gets a number when it first takes part, whichever sign it had: (h, b) and its negation share one. Literals
 * found decided wait aside under the level at which they were decided, and come back when that level is undone.
 * Reference: Moskewicz et al., "Chaff", DAC 2001 (VSIDS), over lazily made bounds as in Feydy and Stuckey, CP 2009.
 */
export class Activity {
  /** By literal number: the even half and the bound of [x >= bound]. */
  half = new Int32Array(1024);
  bound = new Int32Array(1024);
  private score = new Float64Array(1024);
  private heap = new Int32Array(1024);
  /** By literal: its place in the heap, or -1. */
  private place = new Int32Array(1024);
  private heapSize = 0;
  private count = 0;
  private slots = new Int32Array(4096).fill(-1);
  private increment = 1;
  private readonly decay: number;
  private parkedHead = new Int32Array(1024).fill(-1);
  private parkedNext = new Int32Array(1024);
  private deepestParked = 0;
  private readonly bounds: Bounds;

  constructor(bounds: Bounds, decay: number) {
    this.bounds = bounds;
    this.decay = decay;
  }

  /** The number of the literal [h >= b] or of its negation. */
  literal(h: number, b: number): number {
    const even = h & ~1;
    const value = h & 1 ? 1 - b : b;
    const mask = this.slots.length - 1;
    let slot = hash(even, value) & mask;
    for (;;) {
      const found = this.slots[slot]!;
      if (found < 0) return this.intern(even, value, slot);
      if (this.half[found] === even && this.bound[found] === value) return found;
      slot = (slot + 1) & mask;
    }
  }

  bump(h: number, b: number): void {
    const literal = this.literal(h, b);
    this.score[literal]! += this.increment;
    if (this.score[literal]! > 1e100) this.rescale();
    if (this.place[literal]! >= 0) this.siftUp(this.place[literal]!);
  }

  decayAll(): void {
    this.increment /= this.decay;
  }

  /** The most active undecided literal, or -1. */
  take(): number {
    const lower = this.bounds.lower;
    while (this.heapSize > 0) {
      const literal = this.heap[0]!;
      const h = this.half[literal]!;
      const b = this.bound[literal]!;
      this.removeTop();
      if (lower[h]! >= b) this.park(literal, this.bounds.entryOf(h, b));
      else if (lower[h + 1]! >= 1 - b) this.park(literal, this.bounds.entryOf(h + 1, 1 - b));
      else {
        this.parkAt(literal, this.bounds.level + 1);
        return literal;
      }
    }
    return -1;
  }

  /** Brings back the literals that were decided above this level. */
  backtrackTo(level: number): void {
    for (let l = level + 1; l <= this.deepestParked; l++) {
      let literal = this.parkedHead[l]!;
      while (literal >= 0) {
        this.insert(literal);
        literal = this.parkedNext[literal]!;
      }
      this.parkedHead[l] = -1;
    }
    if (level < this.deepestParked) this.deepestParked = level;
  }

  /** Forgets the less active literals when there are many. Only at level 0. */
  trim(most: number): void {
    if (this.count <= most) return;
    const order = Array.from({ length: this.count }, (_, k) => k).sort((a, b) => this.score[b]! - this.score[a]!);
    const kept = order.slice(0, most >> 1).map((k) => [this.half[k]!, this.bound[k]!, this.score[k]!] as const);
    this.slots.fill(-1);
    this.parkedHead.fill(-1);
    this.deepestParked = 0;
    this.count = 0;
    this.heapSize = 0;
    for (const [h, b, score] of kept) {
      const literal = this.literal(h, b);
      this.score[literal] = score;
      this.siftUp(this.place[literal]!);
    }
  }

  private intern(h: number, value: number, slot: number): number {
    const literal = this.count++;
    if (literal === this.half.length) this.grow();
    this.half[literal] = h;
    this.bound[literal] = value;
    this.score[literal] = 0;
    this.place[literal] = -1;
    this.slots[slot] = literal;
    if (this.count * 2 > this.slots.length) this.rehash();
    this.insert(literal);
    return literal;
  }

  private park(literal: number, entry: number): void {
    if (entry < 0) return;
    this.parkAt(literal, this.bounds.levelOf[entry]!);
  }

  private parkAt(literal: number, level: number): void {
    if (level === 0) return;
    while (level >= this.parkedHead.length) {
      const larger = new Int32Array(this.parkedHead.length * 2).fill(-1);
      larger.set(this.parkedHead);
      this.parkedHead = larger;
    }
    this.parkedNext[literal] = this.parkedHead[level]!;
    this.parkedHead[level] = literal;
    if (level > this.deepestParked) this.deepestParked = level;
  }

  private insert(literal: number): void {
    this.heap[this.heapSize] = literal;
    this.place[literal] = this.heapSize;
    this.siftUp(this.heapSize++);
  }

  private siftUp(from: number): void {
    const { heap, place, score } = this;
    const literal = heap[from]!;
    const s = score[literal]!;
    let at = from;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      const above = heap[parent]!;
      if (score[above]! >= s) break;
      heap[at] = above;
      place[above] = at;
      at = parent;
    }
    heap[at] = literal;
    place[literal] = at;
  }

  private removeTop(): void {
    const { heap, place, score } = this;
    place[heap[0]!] = -1;
    const literal = heap[--this.heapSize]!;
    const n = this.heapSize;
    if (n === 0) return;
    const s = score[literal]!;
    let at = 0;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= n) break;
      if (child + 1 < n && score[heap[child + 1]!]! > score[heap[child]!]!) child++;
      if (score[heap[child]!]! <= s) break;
      heap[at] = heap[child]!;
      place[heap[at]!] = at;
      at = child;
    }
    heap[at] = literal;
    place[literal] = at;
  }

  private rescale(): void {
    for (let k = 0; k < this.count; k++) this.score[k]! *= 1e-100;
    this.increment *= 1e-100;
  }

  private rehash(): void {
    const slots = new Int32Array(this.slots.length * 2).fill(-1);
    const mask = slots.length - 1;
    for (let k = 0; k < this.count; k++) {
      let slot = hash(this.half[k]!, this.bound[k]!) & mask;
      while (slots[slot]! >= 0) slot = (slot + 1) & mask;
      slots[slot] = k;
    }
    this.slots = slots;
  }

  private grow(): void {
    this.half = doubled(this.half);
    this.bound = doubled(this.bound);
    this.heap = doubled(this.heap);
    this.place = doubled(this.place);
    this.parkedNext = doubled(this.parkedNext);
    const score = new Float64Array(this.score.length * 2);
    score.set(this.score);
    this.score = score;
  }
}

function hash(h: number, value: number): number {
  const mixed = Math.imul(h, 0x9e3779b1) ^ Math.imul(value, 0x85ebca6b);
  return (mixed ^ (mixed >>> 15)) >>> 0;
}
