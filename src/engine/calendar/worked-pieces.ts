import type { BudgetWindows } from './budget-windows.ts';
import { NEVER } from './never.ts';
import type { WorkCalendar } from './work-calendar.ts';

/** The worked pieces of one operation, in a buffer that is used again: piece k is [from[k], to[k]). */
export class WorkedPieces {
  from = new Int32Array(16);
  to = new Int32Array(16);
  count = 0;

  /** Pieces of work that starts at `start` and needs `work`; returns its end, NEVER when it does not end before `latest`. */
  ofWork(calendar: WorkCalendar, budget: BudgetWindows | null, start: number, work: number, latest: number): number {
    this.count = 0;
    if (work <= 0) return start;
    if (budget === null) {
      const run = calendar.runAt(start);
      if (run < calendar.runTo.length && start >= calendar.runFrom[run]!) {
        const within = calendar.endInRun(run, start, work);
        if (within <= calendar.runTo[run]!) {
          if (within > latest) return NEVER;
          this.from[0] = start;
          this.to[0] = within;
          this.count = 1;
          return within;
        }
      }
      const end = calendar.endOf(start, work);
      if (end > latest) return NEVER;
      this.#addRuns(calendar, start, end);
      return end;
    }
    let at = start;
    let left = work;
    for (let w = budget.windowAt(at); at < latest; ) {
      const inside = w < budget.from.length && at >= budget.from[w]!;
      const stop = w >= budget.from.length ? NEVER : inside ? saturation(calendar, budget, w, at) : budget.from[w]!;
      const end = calendar.endOf(at, left);
      if (end <= stop) {
        if (end > latest) return NEVER;
        this.#addRuns(calendar, at, end);
        return end;
      }
      this.#addRuns(calendar, at, stop);
      left -= calendar.workAt(stop) - calendar.workAt(at);
      at = inside ? budget.to[w]! : stop;
      if (inside) w++;
    }
    return NEVER;
  }

  /** Pieces of what is known to have run from `start` to `end`. */
  ofSpan(calendar: WorkCalendar, budget: BudgetWindows | null, start: number, end: number): void {
    this.count = 0;
    if (budget === null) {
      this.#addRuns(calendar, start, end);
      return;
    }
    let at = start;
    for (let w = budget.windowAt(at); at < end; ) {
      const inside = w < budget.from.length && at >= budget.from[w]!;
      const stop = w >= budget.from.length ? NEVER : inside ? saturation(calendar, budget, w, at) : budget.from[w]!;
      this.#addRuns(calendar, at, Math.min(stop, end));
      at = inside ? budget.to[w]! : stop;
      if (inside) w++;
    }
  }

  #addRuns(calendar: WorkCalendar, start: number, end: number): void {
    for (let k = calendar.runAt(start); k < calendar.runFrom.length && calendar.runFrom[k]! < end; k++) {
      const from = Math.max(start, calendar.runFrom[k]!);
      const to = Math.min(end, calendar.runTo[k]!);
      if (from >= to) continue;
      if (this.count > 0 && this.to[this.count - 1] === from) {
        this.to[this.count - 1] = to;
        continue;
      }
      if (this.count === this.from.length) this.#grow();
      this.from[this.count] = from;
      this.to[this.count] = to;
      this.count++;
    }
  }

  #grow(): void {
    const from = new Int32Array(this.from.length * 2);
    const to = new Int32Array(this.to.length * 2);
    from.set(this.from);
    to.set(this.to);
    this.from = from;
    this.to = to;
  }
}

/** When work that is in window `w` from `at` on has used the window's limit, or else the window's end. */
function saturation(calendar: WorkCalendar, budget: BudgetWindows, w: number, at: number): number {
  return Math.min(budget.to[w]!, calendar.minuteWorked(calendar.minutesAt(at) + budget.limit));
}
