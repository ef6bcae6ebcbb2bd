/**
 * Integer variables as pairs of halves, with a trail.
 *
 * A variable x has two halves: `h` (even) stands for x and `h ^ 1` for -x, so that every bound is a lower bound:
 * `lower[h]` is the least x, and the greatest x is `-lower[h ^ 1]`. The literal `[h >= b]` is the pair (h, b); its
 * negation is (h ^ 1, 1 - b). No literal is ever stored: it is made by naming it, and its truth is read off the bounds.
 *
 * A Boolean is a variable in 0..1, named by a half: even means "it is true", odd means "it is false".
 */
export class Bounds {
  /** By half. */
  lower = new Int32Array(256);
  /** By half: index of the latest trail entry on it, or -1. */
  last = new Int32Array(256);
  /** Halves in use; always even. */
  halves = 0;

  /** The trail: entry t raised `half[t]` from `old[t]` to `bound[t]`, because of (`reason[t]`, `data[t]`). */
  half = new Int32Array(4096);
  bound = new Int32Array(4096);
  old = new Int32Array(4096);
  prev = new Int32Array(4096);
  reason = new Int32Array(4096);
  data = new Int32Array(4096);
  levelOf = new Int32Array(4096);
  size = 0;

  level = 0;
  private levelStart = new Int32Array(1024);

  /** The half whose bounds crossed, or -1. */
  emptied = -1;

  /** Makes a variable with values min..max and returns its even half. */
  newVariable(min: number, max: number): number {
    const h = this.halves;
    this.halves += 2;
    if (this.halves > this.lower.length) {
      this.lower = doubled(this.lower);
      this.last = doubled(this.last);
    }
    this.lower[h] = min;
    this.lower[h + 1] = -max;
    this.last[h] = -1;
    this.last[h + 1] = -1;
    return h;
  }

  newBoolean(): number {
    return this.newVariable(0, 1);
  }

  min(h: number): number {
    return this.lower[h]!;
  }

  max(h: number): number {
    // Not a bare minus, which would make a negative zero.
    return 0 - this.lower[h ^ 1]!;
  }

  /** Raises a half; false when its variable has no value left (the entry is on the trail all the same). */
  raise(h: number, b: number, reason: number, data: number): boolean {
    const before = this.lower[h]!;
    if (b <= before) return true;
    const n = this.size;
    if (n === this.half.length) this.growTrail();
    this.half[n] = h;
    this.bound[n] = b;
    this.old[n] = before;
    this.prev[n] = this.last[h]!;
    this.reason[n] = reason;
    this.data[n] = data;
    this.levelOf[n] = this.level;
    this.lower[h] = b;
    this.last[h] = n;
    this.size = n + 1;
    if (b > -this.lower[h ^ 1]!) {
      this.emptied = h;
      return false;
    }
    return true;
  }

  /** The bound that a half had just before trail entry `before`. */
  at(h: number, before: number): number {
    let entry = this.last[h]!;
    let b = this.lower[h]!;
    while (entry >= before) {
      b = this.old[entry]!;
      entry = this.prev[entry]!;
    }
    return b;
  }

  /** The trail entry that made the true literal [h >= b] true, or -1 when it holds at the root. */
  entryOf(h: number, b: number): number {
    let entry = this.last[h]!;
    while (entry >= 0 && this.old[entry]! >= b) entry = this.prev[entry]!;
    return entry;
  }

  openLevel(): void {
    if (++this.level === this.levelStart.length) this.levelStart = doubled(this.levelStart);
    this.levelStart[this.level] = this.size;
  }

  /** Takes the last entry off the trail. */
  undoLast(): void {
    const n = --this.size;
    const h = this.half[n]!;
    this.lower[h] = this.old[n]!;
    this.last[h] = this.prev[n]!;
  }

  backtrackTo(level: number): void {
    if (level >= this.level) return;
    const keep = this.levelStart[level + 1]!;
    while (this.size > keep) this.undoLast();
    this.level = level;
    this.emptied = -1;
  }

  /** Forgets the reasons of what holds at the root. Only at level 0, after propagation. */
  commitRoot(): void {
    for (let t = 0; t < this.size; t++) this.last[this.half[t]!] = -1;
    this.size = 0;
  }

  private growTrail(): void {
    this.half = doubled(this.half);
    this.bound = doubled(this.bound);
    this.old = doubled(this.old);
    this.prev = doubled(this.prev);
    this.reason = doubled(this.reason);
    this.data = doubled(this.data);
    this.levelOf = doubled(this.levelOf);
  }
}

export function doubled(array: Int32Array): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(array.length * 2);
  larger.set(array);
  return larger;
}
