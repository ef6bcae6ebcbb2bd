import { type Bounds, doubled } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';
import type { Taken } from './timetable.ts';

/** A task that is always there and lasts the same whenever it begins. */
export interface EnergyTask {
  /** Even half of the start. */
  readonly start: number;
  readonly minutes: number;
  readonly amount: number;
}

/** The deepest level looked at: what is assumed of the objective is decided at the first. */
const DEEPEST = 1;

/** Ints in a record of a push: trail entry, task, window. */
const RECORD = 4;

/**
 * Ensures that in no window [a, b) between an earliest start and a latest end the tasks need more than the capacity gives,
 * and that no task starts so early that they would.
 *
 * Time-table edge finding: what tasks surely cover counts where it lies, the rest of a task wholly inside the window, and of one that
 * reaches out of it as much as is inside even at its latest. The task that would add most by starting at its earliest is
 * pushed to where it fits. Mirrored in time. Explained by the least overlap of each task with the window, each bound as weak as that
 * overlap allows, with the slack given away.
 *
 * Wakes when a bound of a start moves; O(n^2). References: Vilím, CPAIOR 2011 (time-table edge finding); Schutt, Feydy and
 * Stuckey, CPAIOR 2013 (its explanations).
 */
export class Energy implements Propagator {
  private readonly solver: Solver;
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly n: number;
  private readonly capacity: number;
  private readonly start: Int32Array;
  private readonly minutes: Int32Array;
  private readonly amount: Int32Array;
  private readonly taken: readonly Taken[];
  private readonly head: Int32Array;
  private readonly late: Int32Array;
  private readonly byHead: Int32Array;
  private readonly byEnd: Int32Array;
  /** Energy of what is surely covered before the head, and the latest end, of each task. */
  private readonly coveredAtHead: Float64Array;
  private readonly coveredAtEnd: Float64Array;
  private readonly eventAt: Int32Array;
  private readonly eventDelta: Int32Array;
  private readonly eventOrder: Int32Array;
  private records = new Int32Array(64 * RECORD);
  private recorded = 0;

  constructor(solver: Solver, tasks: readonly EnergyTask[], capacity: number, taken: readonly Taken[]) {
    this.solver = solver;
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    const n = tasks.length;
    this.n = n;
    this.capacity = capacity;
    this.start = Int32Array.from(tasks, (t) => t.start);
    this.minutes = Int32Array.from(tasks, (t) => t.minutes);
    this.amount = Int32Array.from(tasks, (t) => t.amount);
    this.taken = taken;
    this.head = new Int32Array(n);
    this.late = new Int32Array(n);
    this.byHead = Int32Array.from({ length: n }, (_, k) => k);
    this.byEnd = Int32Array.from({ length: n }, (_, k) => k);
    this.coveredAtHead = new Float64Array(n);
    this.coveredAtEnd = new Float64Array(n);
    const m = 2 * (n + taken.length);
    this.eventAt = new Int32Array(m);
    this.eventDelta = new Int32Array(m);
    this.eventOrder = Int32Array.from({ length: m }, (_, k) => k);
    this.reason = solver.addExplainer(this);
    solver.addPropagator(
      this,
      2,
      tasks.flatMap((t) => [t.start, t.start ^ 1]),
    );
  }

  propagate(): boolean {
    // Deeper down it costs more than it saves.
    return this.bounds.level > DEEPEST || (this.pass(0) && this.pass(1));
  }

  /** Least and greatest start, in the direction looked at. */
  private readBounds(direction: 0 | 1): void {
    const { lower } = this.bounds;
    for (let i = 0; i < this.n; i++) {
      const s = this.start[i]!;
      this.head[i] = direction === 0 ? lower[s]! : lower[s ^ 1]! - this.minutes[i]!;
      this.late[i] = direction === 0 ? -lower[s ^ 1]! : -lower[s]! - this.minutes[i]!;
    }
  }

  private readCovered(direction: 0 | 1): void {
    const { n, head, late, minutes, amount, taken, eventAt, eventDelta, eventOrder } = this;
    for (let i = 0; i < n; i++) {
      const sure = late[i]! < head[i]! + minutes[i]!;
      eventAt[2 * i] = late[i]!;
      eventAt[2 * i + 1] = sure ? head[i]! + minutes[i]! : late[i]!;
      eventDelta[2 * i] = amount[i]!;
      eventDelta[2 * i + 1] = -amount[i]!;
    }
    for (let k = 0; k < taken.length; k++) {
      const at = 2 * (n + k);
      eventAt[at] = direction === 0 ? taken[k]!.from : -taken[k]!.to;
      eventAt[at + 1] = direction === 0 ? taken[k]!.to : -taken[k]!.from;
      eventDelta[at] = taken[k]!.amount;
      eventDelta[at + 1] = -taken[k]!.amount;
    }
    sortBy(eventOrder, eventAt);
    this.sweep(this.byHead, head, null, this.coveredAtHead);
    this.sweep(this.byEnd, late, minutes, this.coveredAtEnd);
  }

  /** Energy covered before a minute of each task, the tasks being in the order of that minute. */
  private sweep(order: Int32Array, at: Int32Array, besides: Int32Array | null, energy: Float64Array): void {
    const { eventAt, eventDelta, eventOrder } = this;
    let e = 0;
    let load = 0;
    let sum = 0;
    let last = eventAt[eventOrder[0]!]!;
    for (let k = 0; k < order.length; k++) {
      const i = order[k]!;
      const minute = at[i]! + (besides === null ? 0 : besides[i]!);
      while (e < eventOrder.length && eventAt[eventOrder[e]!]! < minute) {
        const event = eventOrder[e++]!;
        sum += load * (eventAt[event]! - last);
        last = eventAt[event]!;
        load += eventDelta[event]!;
      }
      energy[i] = minute > last ? sum + load * (minute - last) : sum;
    }
  }

  private pass(direction: 0 | 1): boolean {
    this.readBounds(direction);
    const { n, head, late, minutes, amount, byHead, byEnd, capacity, coveredAtHead, coveredAtEnd } = this;
    sortBy(byHead, head);
    for (let i = 0; i < n; i++) this.late[i]! += minutes[i]!;
    sortBy(byEnd, late);
    for (let i = 0; i < n; i++) this.late[i]! -= minutes[i]!;
    this.readCovered(direction);
    this.solver.work += (n * n) >> 3;
    let before = Number.NaN;
    for (let q = n - 1; q >= 0; q--) {
      const last = byEnd[q]!;
      const b = late[last]! + minutes[last]!;
      if (b === before) continue;
      before = b;
      let energy = 0;
      let most = 0;
      let candidate = -1;
      let candidateRest = 0;
      for (let k = n - 1; k >= 0; k--) {
        const i = byHead[k]!;
        const a = head[i]!;
        if (a >= b) continue;
        const p = minutes[i]!;
        const ends = late[i]! + p;
        const surely = Math.max(0, Math.min(b, a + p) - late[i]!);
        if (ends <= b) energy += amount[i]! * (p - Math.max(0, a + p - late[i]!));
        else {
          const rest = amount[i]! * Math.max(0, Math.min(p, b - late[i]!) - surely);
          energy += rest;
          const gain = amount[i]! * (Math.min(p, b - a) - surely) - rest;
          if (gain > most) {
            most = gain;
            candidate = i;
            candidateRest = rest;
          }
        }
        const free = capacity * (b - a) - (coveredAtEnd[last]! - coveredAtHead[i]!) - energy;
        if (free < 0) return this.overload(direction, a, b);
        if (most > free) {
          const c = candidate;
          const sure = Math.max(0, Math.min(b, head[c]! + minutes[c]!) - late[c]!);
          const room = Math.floor((free + candidateRest) / amount[c]!) + sure;
          if (!this.push(direction, c, b - room, a, b)) return false;
        }
      }
    }
    return true;
  }

  private push(direction: 0 | 1, i: number, to: number, a: number, b: number): boolean {
    const { bounds } = this;
    const s = this.start[i]!;
    const half = direction === 0 ? s : s ^ 1;
    const bound = direction === 0 ? to : to + this.minutes[i]!;
    if (bound <= bounds.lower[half]!) return true;
    while (this.recorded > 0 && this.records[(this.recorded - 1) * RECORD]! >= bounds.size) this.recorded--;
    const at = this.recorded * RECORD;
    if (at + RECORD > this.records.length) this.records = doubled(this.records);
    this.records[at] = bounds.size;
    this.records[at + 1] = i;
    this.records[at + 2] = direction === 0 ? a : -b;
    this.records[at + 3] = direction === 0 ? b : -a;
    return bounds.raise(half, bound, this.reason, this.recorded++);
  }

  private overload(direction: 0 | 1, a: number, b: number): false {
    this.explanation.size = 0;
    const from = direction === 0 ? a : -b;
    const to = direction === 0 ? b : -a;
    this.explainWindow(from, to, this.capacity * (to - from) + 1, -1, 0x7fffffff);
    return false;
  }

  explain(half: number, need: number, data: number, before: number): void {
    const { explanation, records } = this;
    const i = records[data * RECORD + 1]!;
    const a = records[data * RECORD + 2]!;
    const b = records[data * RECORD + 3]!;
    const s = this.start[i]!;
    const p = this.minutes[i]!;
    // Started any earlier (or, mirrored, later) the task would have so many minutes in the window.
    const inside = half === s ? Math.min(p, b - need + 1) : Math.min(p, 1 - need + p - a);
    if (half === s) explanation.push(s, a + inside - p);
    else explanation.push(s ^ 1, inside - b);
    this.explainWindow(a, b, this.capacity * (b - a) + 1 - this.amount[i]! * inside, i, before);
  }

  /** Writes tasks other than `except` whose least overlaps with the window need at least so much energy. */
  private explainWindow(a: number, b: number, needed: number, except: number, before: number): void {
    const { bounds, explanation, taken, head } = this;
    let energy = 0;
    for (let k = 0; k < taken.length; k++) {
      energy += taken[k]!.amount * Math.max(0, Math.min(b, taken[k]!.to) - Math.max(a, taken[k]!.from));
    }
    for (let j = 0; j < this.n; j++) {
      head[j] = 0;
      if (j === except) continue;
      const s = this.start[j]!;
      const p = this.minutes[j]!;
      const first = bounds.at(s, before) + p - a;
      const last = b + bounds.at(s ^ 1, before);
      head[j] = Math.max(0, Math.min(b - a, p, first, last));
      energy += this.amount[j]! * head[j]!;
    }
    let slack = energy - needed;
    for (let j = 0; j < this.n; j++) {
      if (head[j]! === 0) continue;
      const give = Math.min(head[j]!, Math.floor(slack / this.amount[j]!));
      if (give === head[j]!) {
        slack -= give * this.amount[j]!;
        head[j] = 0;
      }
    }
    for (let j = 0; j < this.n; j++) {
      if (head[j]! === 0) continue;
      const give = Math.min(head[j]!, Math.floor(slack / this.amount[j]!));
      slack -= give * this.amount[j]!;
      const inside = head[j]! - give;
      if (inside === 0) continue;
      const s = this.start[j]!;
      explanation.push(s, a + inside - this.minutes[j]!);
      explanation.push(s ^ 1, inside - b);
    }
  }
}

function sortBy(order: Int32Array, key: Int32Array): void {
  for (let i = 1; i < order.length; i++) {
    const item = order[i]!;
    const k = key[item]!;
    let j = i - 1;
    while (j >= 0 && key[order[j]!]! > k) {
      order[j + 1] = order[j]!;
      j--;
    }
    order[j + 1] = item;
  }
}
