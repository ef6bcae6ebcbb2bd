import type { BudgetWindows } from '../calendar/budget-windows.ts';
import type { WorkCalendar } from '../calendar/work-calendar.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';
import { ALWAYS } from './task.ts';
import type { WorkSpan } from './work-span.ts';

/** One mode of an operation that draws on the budget. */
export interface Drawer {
  /** Even half of the start. */
  readonly start: number;
  /** Half of the Boolean that says the mode is taken, or ALWAYS. */
  readonly presence: number;
  readonly span: WorkSpan;
  readonly calendar: WorkCalendar;
}

/**
 * Ensures that what is drawn from a budget stays within its limit in every window.
 *
 * What one operation draws in a window grows and then falls as it begins later, so that the least over its possible
 * starts is at one end of them, and the starts at which it draws more than is left are consecutive. They are passed over;
 * a mode that draws too much at both ends is refused.
 *
 * Wakes when a bound of a start moves or a mode is taken; O(windows x modes x pieces).
 */
export class BudgetDraw implements Propagator {
  private readonly solver: Solver;
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly drawers: readonly Drawer[];
  private readonly budget: BudgetWindows;
  /** By window, what is left for the operations that are still to be decided. */
  private readonly limits: Int32Array;
  private readonly pieces = new WorkedPieces();
  private readonly least: Int32Array;

  /** `drawn` is, by window, what facts have drawn. */
  constructor(solver: Solver, drawers: readonly Drawer[], budget: BudgetWindows, drawn: ArrayLike<number>) {
    this.solver = solver;
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    this.drawers = drawers;
    this.budget = budget;
    // Where facts have overdrawn it, nothing more may be drawn.
    this.limits = Int32Array.from(budget.from, (_, w) => Math.max(0, budget.limit - drawn[w]!));
    this.least = new Int32Array(drawers.length);
    this.reason = solver.addExplainer(this);
    const wakes: number[] = [];
    for (const { start, presence } of drawers) {
      wakes.push(start, start ^ 1);
      if (presence !== ALWAYS) wakes.push(presence);
    }
    solver.addPropagator(this, 2, wakes);
  }

  propagate(): boolean {
    for (let w = 0; w < this.limits.length; w++) if (!this.look(w)) return false;
    return true;
  }

  private isPresent(i: number): boolean {
    const p = this.drawers[i]!.presence;
    return p === ALWAYS || this.bounds.lower[p]! >= 1 - (p & 1);
  }

  private isAbsent(i: number): boolean {
    const p = this.drawers[i]!.presence;
    return p !== ALWAYS && this.bounds.lower[p ^ 1]! >= (p & 1);
  }

  /** Minutes that work begun at a possible start draws in a window. */
  private drawn(i: number, w: number, start: number): number {
    const { budget, pieces } = this;
    const { calendar, span } = this.drawers[i]!;
    const end = span.end(start);
    if (end <= budget.from[w]! || start >= budget.to[w]!) return 0;
    pieces.ofSpan(calendar, budget, start, end);
    let minutes = 0;
    for (let k = 0; k < pieces.count; k++) {
      minutes += Math.max(0, Math.min(pieces.to[k]!, budget.to[w]!) - Math.max(pieces.from[k]!, budget.from[w]!));
    }
    return minutes;
  }

  private leastDrawn(i: number, w: number, earliest: number, latest: number): number {
    const { span } = this.drawers[i]!;
    const first = span.next(earliest);
    const last = span.previous(latest);
    if (first > last) return 0;
    const atFirst = this.drawn(i, w, first);
    return atFirst === 0 ? 0 : Math.min(atFirst, this.drawn(i, w, last));
  }

  private look(w: number): boolean {
    const { bounds, drawers, least } = this;
    this.solver.work += drawers.length;
    let sum = 0;
    let any = false;
    for (let i = 0; i < drawers.length; i++) {
      least[i] = 0;
      if (this.isAbsent(i)) continue;
      const s = drawers[i]!.start;
      least[i] = this.leastDrawn(i, w, bounds.lower[s]!, -bounds.lower[s ^ 1]!);
      any ||= this.mayDraw(i, w);
      if (this.isPresent(i)) sum += least[i]!;
    }
    if (!any) return true;
    const limit = this.limits[w]!;
    if (sum > limit) {
      this.explanation.size = 0;
      this.explainDrawn(w, limit + 1, -1, 0x7fffffff);
      return false;
    }
    for (let i = 0; i < drawers.length; i++) {
      if (this.isAbsent(i)) continue;
      const p = drawers[i]!.presence;
      if (!this.isPresent(i)) {
        if (sum + least[i]! > limit && !bounds.raise(p ^ 1, p & 1, this.reason, this.dataOf(i, w))) return false;
      } else if (!this.filter(i, w, limit - sum + least[i]!)) return false;
    }
    return true;
  }

  private mayDraw(i: number, w: number): boolean {
    const { span, start } = this.drawers[i]!;
    const last = span.previous(-this.bounds.lower[start ^ 1]!);
    return span.end(last) > this.budget.from[w]! && this.bounds.lower[start]! < this.budget.to[w]!;
  }

  /** Passes over starts at which the operation draws more than there is room for. */
  private filter(i: number, w: number, room: number): boolean {
    const { bounds } = this;
    const { span, start } = this.drawers[i]!;
    const first = span.next(bounds.lower[start]!);
    const last = span.previous(-bounds.lower[start ^ 1]!);
    if (first > last) return true;
    const tooMuchAtFirst = this.drawn(i, w, first) > room;
    // Both at once is seen as a conflict, or a refusal, when the sum is next made.
    if (tooMuchAtFirst === this.drawn(i, w, last) > room) return true;
    let low = first;
    let high = last;
    for (;;) {
      let middle = span.previous((low + high) >> 1);
      if (middle <= low) middle = span.next(low + 1);
      if (middle >= high) break;
      if (this.drawn(i, w, middle) > room === tooMuchAtFirst) low = middle;
      else high = middle;
    }
    const data = this.dataOf(i, w);
    return tooMuchAtFirst
      ? bounds.raise(start, high, this.reason, data)
      : bounds.raise(start ^ 1, -low, this.reason, data);
  }

  private dataOf(i: number, w: number): number {
    return w * this.drawers.length + i;
  }

  explain(half: number, need: number, data: number, before: number): void {
    const { bounds, explanation, drawers } = this;
    const i = data % drawers.length;
    const w = (data - i) / drawers.length;
    const { start, presence: p } = drawers[i]!;
    let earliest = bounds.at(start, before);
    let latest = -bounds.at(start ^ 1, before);
    if (p !== ALWAYS && half === (p ^ 1)) this.pushStarts(i, before);
    else {
      if (p !== ALWAYS) explanation.pushTrue(p);
      explanation.push(half, bounds.at(half, before));
      // Of the starts passed over each draws at least what the two ends of them do.
      if (half === start) latest = need - 1;
      else earliest = 1 - need;
    }
    this.explainDrawn(w, this.limits[w]! + 1 - this.leastPassed(i, w, earliest, latest), i, before);
  }

  private leastPassed(i: number, w: number, from: number, to: number): number {
    const { span } = this.drawers[i]!;
    const first = span.next(from);
    const last = span.previous(to);
    return first > last ? 0x3fffffff : Math.min(this.drawn(i, w, first), this.drawn(i, w, last));
  }

  private pushStarts(i: number, before: number): void {
    const { start } = this.drawers[i]!;
    this.explanation.push(start, this.bounds.at(start, before));
    this.explanation.push(start ^ 1, this.bounds.at(start ^ 1, before));
  }

  /** Writes operations other than `except` that surely draw on the window, until they draw `needed` minutes. */
  private explainDrawn(w: number, needed: number, except: number, before: number): void {
    const { bounds, drawers, explanation } = this;
    let held = 0;
    for (let k = 0; k < drawers.length && held < needed; k++) {
      if (k === except) continue;
      const { start, presence: p } = drawers[k]!;
      if (p !== ALWAYS && bounds.at(p, before) < 1 - (p & 1)) continue;
      const drawn = this.leastDrawn(k, w, bounds.at(start, before), -bounds.at(start ^ 1, before));
      if (drawn === 0) continue;
      held += drawn;
      this.pushStarts(k, before);
      if (p !== ALWAYS) explanation.pushTrue(p);
    }
  }
}
