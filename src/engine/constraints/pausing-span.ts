import type { BudgetWindows } from '../calendar/budget-windows.ts';
import type { WorkCalendar } from '../calendar/work-calendar.ts';
import type { WorkedPieces } from '../calendar/worked-pieces.ts';
import { CalendarSpan, NO_END } from './work-span.ts';

/**
 * Work that may pause, and is in progress only in some of the minutes between its start and its end. Of a minute in
 * which some start has the work in progress, every later start up to that minute has it too: the later it begins, the
 * later it ends and the less of a budget it has used.
 */
export class PausingSpan extends CalendarSpan {
  private readonly calendar: WorkCalendar;
  private readonly budget: BudgetWindows | null;

  constructor(starts: Int32Array, ends: Int32Array, calendar: WorkCalendar, budget: BudgetWindows | null) {
    super(starts, ends);
    this.calendar = calendar;
    this.budget = budget;
  }

  /** Writes the pieces of work begun at a minute at which it can begin. */
  writePieces(start: number, pieces: WorkedPieces): void {
    pieces.ofSpan(this.calendar, this.budget, start, this.end(start));
  }

  /**
   * The earliest bound of the start at which work begun no later than `minute`, one of positive rate, is surely in progress
   * then; NO_END when it never is.
   */
  firstCovering(minute: number): number {
    const earliest = this.earliestCovering(minute);
    // From the start before it on, there is no other to begin at.
    return earliest >= NO_END ? NO_END : this.previous(earliest - 1) + 1;
  }

  private earliestCovering(minute: number): number {
    const ending = this.firstEndingAfter(minute);
    const { budget, calendar } = this;
    if (budget === null || ending >= NO_END) return ending;
    const w = budget.windowAt(minute);
    if (w === budget.from.length || budget.from[w]! > minute) return ending;
    const worked = calendar.minutesAt(minute) - budget.limit + 1;
    return worked <= calendar.minutesAt(budget.from[w]!) ? ending : Math.max(ending, calendar.minuteWorked(worked));
  }
}
