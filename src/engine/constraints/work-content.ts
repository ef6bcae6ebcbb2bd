import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';
import { ALWAYS } from './task.ts';
import { NO_END, NO_START, type WorkSpan } from './work-span.ts';

export interface WorkMode {
  /** Half of the Boolean that says this mode is taken, or ALWAYS when it is the only one. */
  readonly presence: number;
  readonly span: WorkSpan;
}

/**
 * Ensures that an operation begins when its mode can begin, and ends when the mode's work, begun then, is done.
 *
 * Both ways: the end is at least the least end over the modes still possible, the start at most the greatest start, and
 * so on; a mode that no longer fits between the bounds of start and end is refused. Of an operation that may be absent only
 * modes are refused until it is there. Example: modes of 3 and 5 minutes,
 * start in 0..4, end in 2..4: the mode of 5 is refused, the end is at least 3, the start at most 1.
 *
 * Wakes when a bound of start or end rises or a mode is refused; O(modes log beginnings). Reference: the channel between
 * start, end and duration of Beck and Fox, Artificial Intelligence 117, 2000 (alternative activities), on calendars.
 */
export class WorkContent implements Propagator {
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly start: number;
  private readonly end: number;
  private readonly modes: readonly WorkMode[];
  private readonly presence: number;

  /** `presence` is the half of the Boolean that says the operation is there at all, or ALWAYS. */
  constructor(solver: Solver, start: number, end: number, modes: readonly WorkMode[], presence = ALWAYS) {
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    this.start = start;
    this.end = end;
    this.modes = modes;
    this.presence = presence;
    this.reason = solver.addExplainer(this);
    const wakes = [start, start ^ 1, end, end ^ 1];
    for (const { presence } of modes) if (presence !== ALWAYS) wakes.push(presence ^ 1);
    if (presence !== ALWAYS) wakes.push(presence);
    solver.addPropagator(this, 0, wakes);
  }

  propagate(): boolean {
    const { bounds, start, end, reason } = this;
    for (;;) {
      const before = bounds.size;
      const earliest = bounds.min(start);
      const latest = bounds.max(start);
      const endEarliest = bounds.min(end);
      const endLatest = bounds.max(end);
      let startLow = NO_END;
      let startHigh = NO_START;
      let endLow = NO_END;
      let endHigh = NO_START;
      for (let m = 0; m < this.modes.length; m++) {
        const { presence, span } = this.modes[m]!;
        if (presence !== ALWAYS && bounds.lower[presence ^ 1]! >= (presence & 1)) continue;
        const low = Math.max(span.next(earliest), span.firstEndingAfter(endEarliest - 1));
        const high = Math.min(span.previous(latest), span.lastEndingBy(endLatest));
        if (low > high) {
          if (presence === ALWAYS) return this.writeMisfit(span, bounds.size);
          if (!bounds.raise(presence ^ 1, presence & 1, reason, m)) return false;
          continue;
        }
        startLow = Math.min(startLow, low);
        startHigh = Math.max(startHigh, high);
        endLow = Math.min(endLow, span.end(low));
        endHigh = Math.max(endHigh, span.end(high));
      }
      // With no mode left the clause over the modes has the conflict.
      if (startLow === NO_END || !this.isThere()) return true;
      if (!bounds.raise(start, startLow, reason, -1)) return false;
      if (!bounds.raise(start ^ 1, -startHigh, reason, -1)) return false;
      if (!bounds.raise(end, endLow, reason, -1)) return false;
      if (!bounds.raise(end ^ 1, -endHigh, reason, -1)) return false;
      if (bounds.size === before) return true;
    }
  }

  /** Start and end of an operation that may be absent are left as they are. */
  private isThere(): boolean {
    const { presence } = this;
    return presence === ALWAYS || this.bounds.lower[presence]! >= 1 - (presence & 1);
  }

  explain(half: number, need: number, data: number, before: number): void {
    if (data >= 0) {
      this.writeMisfit(this.modes[data]!.span, before);
      return;
    }
    if (this.presence !== ALWAYS) this.explanation.pushTrue(this.presence);
    const { bounds, explanation, start, end } = this;
    for (const { presence, span } of this.modes) {
      // Per mode: a bound of the start that forces the literal, else one of the end, else that the mode is refused.
      let startNeed = NO_END;
      let startHalf = start;
      let endNeed = NO_END;
      let endHalf = end;
      if (half === start) {
        startNeed = span.previous(need - 1) + 1;
        endNeed = span.end(span.previous(need - 1)) + 1;
      } else if (half === (start ^ 1)) {
        startHalf = start ^ 1;
        endHalf = end ^ 1;
        const next = span.next(1 - need);
        startNeed = 1 - next;
        endNeed = 1 - span.end(next);
      } else if (half === end) {
        startNeed = span.lastEndingBy(need - 1) + 1;
        endNeed = span.end(span.lastEndingBy(need - 1)) + 1;
      } else {
        startHalf = start ^ 1;
        endHalf = end ^ 1;
        const next = span.firstEndingAfter(-need);
        startNeed = 1 - next;
        endNeed = 1 - span.end(next);
      }
      if (presence !== ALWAYS && bounds.at(presence ^ 1, before) >= (presence & 1)) explanation.pushTrue(presence ^ 1);
      else if (bounds.at(startHalf, before) >= startNeed) explanation.push(startHalf, startNeed);
      else explanation.push(endHalf, endNeed);
    }
  }

  /** Writes why the mode does not fit; returns false so that a conflict can return it. */
  private writeMisfit(span: WorkSpan, before: number): false {
    const { bounds, explanation, start, end } = this;
    const earliest = bounds.at(start, before);
    const latest = -bounds.at(start ^ 1, before);
    const endEarliest = bounds.at(end, before);
    const endLatest = -bounds.at(end ^ 1, before);
    if (span.next(earliest) > span.lastEndingBy(endLatest)) {
      explanation.push(end ^ 1, -endLatest);
      explanation.push(start, span.lastEndingBy(endLatest) + 1);
    } else if (span.previous(latest) < span.firstEndingAfter(endEarliest - 1)) {
      explanation.push(start ^ 1, -latest);
      explanation.push(end, span.end(span.previous(latest)) + 1);
    } else if (span.next(earliest) > latest) {
      explanation.push(start, span.previous(latest) + 1);
      explanation.push(start ^ 1, -latest);
    } else {
      explanation.push(end ^ 1, -endLatest);
      explanation.push(end, span.end(span.lastEndingBy(endLatest)) + 1);
    }
    return false;
  }
}
