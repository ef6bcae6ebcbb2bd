import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';
import { ALWAYS, type Task } from './task.ts';

/** A task as the resource sees it, with the least minutes it lasts when it is there. */
export interface DisjunctiveTask extends Omit<Task, 'amount'> {
  readonly minutes: number;
}

/** Half of the Boolean that says task i comes before task j; NEVER_KNOWN when there is none, or GIVEN when lags say so. */
export type OrderOf = (i: number, j: number) => number;
export const NEVER_KNOWN = -1;
export const GIVEN = -2;

const EDGE = 0;
const ORDERED = 1;
const FAR = 0x3fffffff;

/** Whether a task is there. */
const ABSENT = 0;
const UNDECIDED = 1;
const PRESENT = 2;

/** Ints in a record of a push: trail entry, kind and direction, task, deadline, head. */
const RECORD = 5;

/**
 * Ensures that no two of its tasks that are there overlap, by looking at sets of them at once: two by two they are already kept apart by
 * order Booleans.
 *
 * Overload: a set that does not fit between its least start and greatest end is a conflict. Edge finding: when a set with
 * task i would not fit before the set's greatest end, i comes after the whole set and starts no earlier than the set can
 * end. Orders: i starts no earlier than any set of tasks known to come before it can end. Each rule also mirrored in time. A task that may be absent is
 * left out of sets until it is there, and made absent when a rule would push it past its latest start.
 *
 * Wakes when a bound of a task or an order moves; O(n^2). References: Carlier and Pinson, Management Science 35, 1989;
 * Baptiste, Le Pape and Nuijten, Constraint-Based Scheduling, 2001, section 2.1.3 (the O(n^2) pass); explanations after
 * Vilím, CP-AI-OR 2005.
 */
export class Disjunctive implements Propagator {
  private readonly solver: Solver;
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly n: number;
  private readonly minutes: Int32Array;
  private readonly presence: Int32Array;
  private readonly state: Uint8Array;
  /** Per direction and task: the head (least start) is lower[half] + offset; minus the deadline likewise. */
  private readonly headHalf: readonly [Int32Array, Int32Array];
  private readonly headOffset: readonly [Int32Array, Int32Array];
  /** Per direction: at [j * n + i], the half of the Boolean "i before j", so that what may come before j lies together. */
  private readonly before: readonly [Int32Array, Int32Array];

  private readonly head: Int32Array;
  private readonly deadline: Int32Array;
  /** Tasks that may be there, by head; `active` of them. */
  private readonly order: Int32Array;
  private active = 0;
  /** Tasks that are there, by head. */
  private readonly there: Int32Array;
  private readonly reach: Int32Array;
  private records = new Int32Array(64 * RECORD);
  private recorded = 0;

  constructor(solver: Solver, tasks: readonly DisjunctiveTask[], orderOf: OrderOf) {
    this.solver = solver;
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    const n = tasks.length;
    this.n = n;
    this.minutes = Int32Array.from(tasks, (t) => t.minutes);
    this.presence = Int32Array.from(tasks, (t) => t.presence);
    this.state = new Uint8Array(n);
    this.headHalf = [Int32Array.from(tasks, (t) => t.start), Int32Array.from(tasks, (t) => t.end ^ 1)];
    this.headOffset = [new Int32Array(n), Int32Array.from(tasks, (t) => -t.endOffset)];
    this.before = [new Int32Array(n * n).fill(NEVER_KNOWN), new Int32Array(n * n).fill(NEVER_KNOWN)];
    const wakes: number[] = [];
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        if (i === j) continue;
        const half = orderOf(i, j);
        this.before[0][j * n + i] = half;
        this.before[1][i * n + j] = half;
        if (half >= 0) wakes.push(half);
      }
    }
    this.head = new Int32Array(n);
    this.deadline = new Int32Array(n);
    this.order = Int32Array.from({ length: n }, (_, k) => k);
    this.there = new Int32Array(n);
    this.reach = new Int32Array(n + 1);
    this.reason = solver.addExplainer(this);
    for (const t of tasks) {
      wakes.push(t.start, t.end ^ 1);
      if (t.presence !== ALWAYS) wakes.push(t.presence);
    }
    solver.addPropagator(this, 2, wakes);
  }

  propagate(): boolean {
    return this.pass(0) && this.pass(1);
  }

  private readBounds(direction: 0 | 1, before: number): void {
    const { bounds, n } = this;
    const headHalf = this.headHalf[direction];
    const headOffset = this.headOffset[direction];
    const tailHalf = this.headHalf[1 - direction]!;
    const tailOffset = this.headOffset[1 - direction]!;
    for (let k = 0; k < n; k++) {
      const p = this.presence[k]!;
      if (p === ALWAYS) this.state[k] = PRESENT;
      else if (before < 0) {
        if (bounds.lower[p]! >= 1 - (p & 1)) this.state[k] = PRESENT;
        else this.state[k] = bounds.lower[p ^ 1]! >= (p & 1) ? ABSENT : UNDECIDED;
      } else this.state[k] = bounds.at(p, before) >= 1 - (p & 1) ? PRESENT : UNDECIDED;
      const head = before < 0 ? bounds.lower[headHalf[k]!]! : bounds.at(headHalf[k]!, before);
      const tail = before < 0 ? bounds.lower[tailHalf[k]!]! : bounds.at(tailHalf[k]!, before);
      this.head[k] = head + headOffset[k]!;
      this.deadline[k] = -(tail + tailOffset[k]!);
    }
  }

  /** Keeps the order of the last time, which changes little, with the absent at its end. */
  private sortByHead(): void {
    const { n, head, order, state } = this;
    for (let k = 0; k < n; k++) if (state[k] === ABSENT) head[k] = FAR;
    for (let i = 1; i < n; i++) {
      const task = order[i]!;
      const h = head[task]!;
      let j = i - 1;
      while (j >= 0 && head[order[j]!]! > h) {
        order[j + 1] = order[j]!;
        j--;
      }
      order[j + 1] = task;
    }
    let active = n;
    while (active > 0 && head[order[active - 1]!] === FAR) active--;
    this.active = active;
  }

  private pass(direction: 0 | 1): boolean {
    this.readBounds(direction, -1);
    const { head, deadline, minutes, order, there, reach, state } = this;
    this.sortByHead();
    const n = this.active;
    let present = 0;
    let longest = 0;
    for (let k = 0; k < n; k++) {
      const i = order[k]!;
      if (state[i] === PRESENT) there[present++] = i;
      if (minutes[i]! > longest) longest = minutes[i]!;
    }
    this.solver.work += 4 + ((present * n) >> 4);
    reach[present] = -FAR;
    if (present < there.length) there[present] = -1;
    for (let k = 0; k < present; k++) {
      const due = deadline[there[k]!]!;
      let load = 0;
      let end = -FAR;
      for (let p = present - 1; p >= 0; p--) {
        const i = there[p]!;
        if (deadline[i]! <= due) {
          load += minutes[i]!;
          if (head[i]! + load > end) end = head[i]! + load;
          if (end > due) return this.overload(direction, head[i]!, due, load);
        }
        reach[p] = end;
      }
      // With room left for the longest task, no task is forced past the set.
      if (end + longest <= due) continue;
      let latestFull = -FAR;
      let fullHead = 0;
      // Present tasks passed so far; those from here on can end at reach[p].
      let p = 0;
      for (let q = 0; q < n; q++) {
        const i = order[q]!;
        if (state[i] === ABSENT) continue;
        if (state[i] === PRESENT && deadline[i]! <= due) {
          if (head[i]! + load > latestFull) {
            latestFull = head[i]! + load;
            fullHead = head[i]!;
          }
          load -= minutes[i]!;
          p++;
          continue;
        }
        if (load > 0 && head[i]! + load + minutes[i]! > due && reach[p]! > head[i]!) {
          if (!this.push(direction, EDGE, i, reach[p]!, due, head[i]!)) return false;
        }
        if (latestFull + minutes[i]! > due && reach[0]! > head[i]!) {
          // The set that forces i begins at fullHead; it can end as late as the best of its parts.
          const to = this.endOfSet(fullHead, due);
          if (to > head[i]! && !this.push(direction, EDGE, i, to, due, fullHead)) return false;
        }
        if (there[p] === i) p++;
      }
    }
    return this.passOrders(direction);
  }

  /** When the tasks with head at least `from` and deadline at most `due` can end at the earliest. */
  private endOfSet(from: number, due: number): number {
    const { active, head, deadline, minutes, order, state } = this;
    let load = 0;
    let end = -FAR;
    for (let q = active - 1; q >= 0; q--) {
      const i = order[q]!;
      if (head[i]! < from) break;
      if (deadline[i]! > due || state[i] !== PRESENT) continue;
      load += minutes[i]!;
      if (head[i]! + load > end) end = head[i]! + load;
    }
    return end;
  }

  private passOrders(direction: 0 | 1): boolean {
    const { active, head, deadline, minutes, order, state, n } = this;
    const before = this.before[direction];
    const lower = this.bounds.lower;
    for (let k = 0; k < active; k++) {
      const i = order[k]!;
      // What cannot move is kept apart by the orders themselves.
      if (state[i] === ABSENT || head[i]! + minutes[i]! >= deadline[i]!) continue;
      const row = i * n;
      let load = 0;
      let end = -FAR;
      for (let q = active - 1; q >= 0; q--) {
        const j = order[q]!;
        const half = before[row + j]!;
        if (half < 0 ? half !== GIVEN : lower[half]! < 1 - (half & 1)) continue;
        if (state[j] !== PRESENT) continue;
        load += minutes[j]!;
        if (head[j]! + load > end) end = head[j]! + load;
      }
      if (end > head[i]! && !this.push(direction, ORDERED, i, end, 0, 0)) return false;
    }
    return true;
  }

  private orderHalf(direction: 0 | 1, i: number, j: number): number {
    return this.before[direction][j * this.n + i]!;
  }

  /** Whether i is known to come before j (in the direction looked at), at a trail entry or now. */
  private comesBefore(direction: 0 | 1, i: number, j: number, entry: number): boolean {
    const half = this.orderHalf(direction, i, j);
    if (half < 0) return half === GIVEN;
    const value = entry < 0 ? this.bounds.lower[half]! : this.bounds.at(half, entry);
    return value >= 1 - (half & 1);
  }

  private push(direction: 0 | 1, kind: number, i: number, to: number, due: number, from: number): boolean {
    const { bounds } = this;
    const half = this.headHalf[direction][i]!;
    const bound = to - this.headOffset[direction][i]!;
    if (bound <= bounds.lower[half]! || this.state[i] === ABSENT) return true;
    const open = this.state[i] === UNDECIDED;
    if (open && bound <= -bounds.lower[half ^ 1]!) return true;
    while (this.recorded > 0 && this.records[(this.recorded - 1) * RECORD]! >= bounds.size) this.recorded--;
    if ((this.recorded + 1) * RECORD > this.records.length) {
      const larger = new Int32Array(this.records.length * 2);
      larger.set(this.records);
      this.records = larger;
    }
    const at = this.recorded * RECORD;
    this.records[at] = bounds.size;
    this.records[at + 1] = kind * 2 + direction;
    this.records[at + 2] = i;
    this.records[at + 3] = due;
    this.records[at + 4] = from;
    if (open) {
      const p = this.presence[i]!;
      this.state[i] = ABSENT;
      return bounds.raise(p ^ 1, p & 1, this.reason, this.recorded++);
    }
    return bounds.raise(half, bound, this.reason, this.recorded++);
  }

  private overload(direction: 0 | 1, from: number, due: number, load: number): false {
    let slack = from + load - due - 1;
    this.explanation.size = 0;
    for (let k = 0; k < this.n; k++) {
      if (this.head[k]! < from || this.deadline[k]! > due || this.state[k] !== PRESENT) continue;
      // A task the overflow can spare is left out.
      if (this.minutes[k]! <= slack) {
        slack -= this.minutes[k]!;
        this.deadline[k] = FAR;
      }
    }
    for (let k = 0; k < this.n; k++) {
      if (this.head[k]! < from || this.deadline[k]! > due || this.state[k] !== PRESENT) continue;
      this.pushPresence(k);
      this.pushHead(direction, k, from - slack);
      this.pushDeadline(direction, k, due);
    }
    return false;
  }

  private pushPresence(k: number): void {
    if (this.presence[k]! !== ALWAYS) this.explanation.pushTrue(this.presence[k]!);
  }

  private pushHead(direction: 0 | 1, k: number, from: number): void {
    this.explanation.push(this.headHalf[direction][k]!, from - this.headOffset[direction][k]!);
  }

  private pushDeadline(direction: 0 | 1, k: number, due: number): void {
    this.explanation.push(this.headHalf[1 - direction]![k]!, -due - this.headOffset[1 - direction]![k]!);
  }

  explain(half: number, need: number, data: number, before: number): void {
    const at = data * RECORD;
    const direction = (this.records[at + 1]! & 1) as 0 | 1;
    const kind = this.records[at + 1]! >> 1;
    const i = this.records[at + 2]!;
    const due = this.records[at + 3]!;
    const from = this.records[at + 4]!;
    const p = this.presence[i]!;
    const refused = p !== ALWAYS && half === (p ^ 1);
    const own = this.headHalf[direction][i]!;
    // A refused task would have been pushed past its latest start.
    const bound = refused ? 1 - this.bounds.at(own ^ 1, before) : need;
    if (refused) this.explanation.push(own ^ 1, 1 - bound);
    else this.pushPresence(i);
    const to = bound + this.headOffset[direction][i]!;
    this.readBounds(direction, before);
    const { n, head, deadline, minutes, state } = this;
    const inSet = (k: number) => {
      if (k === i || state[k] !== PRESENT) return false;
      if (kind === ORDERED) return this.comesBefore(direction, k, i, before);
      return head[k]! >= from && deadline[k]! <= due;
    };
    // The part of the set that by itself ends at `to` or later.
    let partFrom = 0;
    let partLoad = -1;
    for (let k = 0; k < n; k++) {
      if (!inSet(k)) continue;
      let load = 0;
      for (let j = 0; j < n; j++) if (head[j]! >= head[k]! && inSet(j)) load += minutes[j]!;
      if (head[k]! + load >= to && (partLoad < 0 || load < partLoad)) {
        partLoad = load;
        partFrom = head[k]!;
      }
    }
    let load = 0;
    for (let k = 0; k < n; k++) if (inSet(k)) load += minutes[k]!;
    const slack = kind === EDGE ? from + load + minutes[i]! - due - 1 : 0;
    for (let k = 0; k < n; k++) {
      if (!inSet(k)) continue;
      const inPart = head[k]! >= partFrom;
      if (kind === EDGE || inPart) this.pushPresence(k);
      if (kind === ORDERED) {
        if (!inPart) continue;
        const half = this.orderHalf(direction, k, i);
        if (half >= 0) this.explanation.pushTrue(half);
        this.pushHead(direction, k, to - partLoad);
      } else {
        this.pushHead(direction, k, inPart ? Math.max(from - slack, to - partLoad) : from - slack);
        this.pushDeadline(direction, k, due);
      }
    }
    if (kind === EDGE) this.pushHead(direction, i, from - slack);
  }
}
