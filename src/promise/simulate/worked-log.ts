import type { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import { NEVER } from '../../engine/calendar/never.ts';
import type { WorkCalendar } from '../../engine/calendar/work-calendar.ts';

/** Most pieces of one operation that are remembered; later ones are merged into the last. */
const MOST_PIECES = 24;

/** Worked pieces of operations whose pauses or budgets matter to others, and what each budget's windows have left. */
export class WorkedLog {
  readonly pieceFrom: Int32Array;
  readonly pieceTo: Int32Array;
  readonly pieceCount: Int32Array;
  /** Minutes drawn from each window of each budget. */
  readonly drawn: Int32Array;
  readonly #slot: Int32Array;
  readonly #before: Int32Array;

  constructor(keepsPieces: Uint8Array, counters: number) {
    this.#slot = new Int32Array(keepsPieces.length).fill(-1);
    let slots = 0;
    for (let n = 0; n < keepsPieces.length; n++) if (keepsPieces[n] === 1) this.#slot[n] = slots++;
    this.pieceFrom = new Int32Array(slots * MOST_PIECES);
    this.pieceTo = new Int32Array(slots * MOST_PIECES);
    this.pieceCount = new Int32Array(keepsPieces.length);
    this.drawn = new Int32Array(counters);
    this.#before = new Int32Array(counters);
  }

  /** Forgets a scenario; what had been drawn and worked before it began stays. */
  clear(): void {
    this.drawn.set(this.#before);
    this.pieceCount.fill(0);
  }

  /** Counts [from, to) of an operation as drawn before any scenario begins. */
  drawBefore(node: number, calendar: WorkCalendar | null, budget: BudgetWindows, from: number, to: number): void {
    this.add(node, calendar, from, to);
    this.draw(node, budget);
    this.pieceCount[node] = 0;
    this.#before.set(this.drawn);
  }

  keeps(node: number): boolean {
    return this.#slot[node]! >= 0;
  }

  firstPiece(node: number): number {
    return this.#slot[node]! * MOST_PIECES;
  }

  /** Forgets what a node worked and gives back what it drew. */
  forget(node: number, budget: BudgetWindows | null): void {
    if (this.pieceCount[node] === 0) return;
    if (budget !== null) this.#count(node, budget, -1);
    this.pieceCount[node] = 0;
  }

  /** Remembers [from, to) of a calendar as worked; without a calendar all of it. */
  add(node: number, calendar: WorkCalendar | null, from: number, to: number): void {
    if (calendar === null) {
      this.#addPiece(node, from, to);
      return;
    }
    for (let k = calendar.runAt(from); k < calendar.runFrom.length && calendar.runFrom[k]! < to; k++) {
      const begins = Math.max(from, calendar.runFrom[k]!);
      const ends = Math.min(to, calendar.runTo[k]!);
      if (begins < ends) this.#addPiece(node, begins, ends);
    }
  }

  #addPiece(node: number, from: number, to: number): void {
    const first = this.firstPiece(node);
    const count = this.pieceCount[node]!;
    if (count > 0 && (this.pieceTo[first + count - 1] === from || count === MOST_PIECES)) {
      this.pieceTo[first + count - 1] = to;
      return;
    }
    this.pieceFrom[first + count] = from;
    this.pieceTo[first + count] = to;
    this.pieceCount[node] = count + 1;
  }

  /** Enters a node's pieces in its budget. */
  draw(node: number, budget: BudgetWindows): void {
    this.#count(node, budget, 1);
  }

  #count(node: number, budget: BudgetWindows, sign: number): void {
    const first = this.firstPiece(node);
    for (let p = first; p < first + this.pieceCount[node]!; p++) {
      const from = this.pieceFrom[p]!;
      const to = this.pieceTo[p]!;
      for (let w = budget.windowAt(from); w < budget.from.length && budget.from[w]! < to; w++) {
        const minutes = Math.min(to, budget.to[w]!) - Math.max(from, budget.from[w]!);
        this.drawn[budget.firstCounter + w] = this.drawn[budget.firstCounter + w]! + sign * minutes;
      }
    }
  }

  /**
   * The end of work that starts at `start`, where one run of hours and one window hold all of it and the window has as much left;
   * -1 where that takes a closer look. Most work is so.
   */
  endInOneGo(calendar: WorkCalendar, budget: BudgetWindows | null, start: number, work: number): number {
    const run = calendar.runAt(start);
    if (run >= calendar.runFrom.length || calendar.runFrom[run]! > start || calendar.runRate[run] !== 1) return -1;
    const end = start + work;
    if (end > calendar.runTo[run]!) return -1;
    if (budget === null) return end;
    const w = budget.windowAt(start);
    if (w >= budget.from.length || end <= budget.from[w]!) return end;
    if (start < budget.from[w]! || end > budget.to[w]!) return -1;
    return work <= budget.limit - this.drawn[budget.firstCounter + w]! ? end : -1;
  }

  /** Works within what the budget's windows have left, pausing where a window has nothing left; returns the end. */
  workWithin(node: number, calendar: WorkCalendar, budget: BudgetWindows, start: number, work: number): number {
    const quick = this.endInOneGo(calendar, budget, start, work);
    if (quick >= 0) {
      this.add(node, null, start, quick);
      return quick;
    }
    let at = start;
    let left = work;
    for (let w = budget.windowAt(at); at < NEVER; ) {
      const inside = w < budget.from.length && at >= budget.from[w]!;
      const stop =
        w >= budget.from.length ? NEVER : inside ? this.#exhausted(calendar, budget, w, at) : budget.from[w]!;
      const end = calendar.endOf(at, left);
      if (end <= stop) {
        if (end < NEVER) this.add(node, calendar, at, end);
        return end;
      }
      this.add(node, calendar, at, stop);
      left -= calendar.workAt(stop) - calendar.workAt(at);
      at = inside ? budget.to[w]! : stop;
      if (inside) w++;
    }
    return NEVER;
  }

  #exhausted(calendar: WorkCalendar, budget: BudgetWindows, w: number, at: number): number {
    const available = budget.limit - this.drawn[budget.firstCounter + w]!;
    if (available <= 0) return at;
    return Math.max(at, Math.min(budget.to[w]!, calendar.minuteWorked(calendar.minutesAt(at) + available)));
  }
}
