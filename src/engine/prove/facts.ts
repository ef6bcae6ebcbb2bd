import { BudgetWindows } from '../calendar/budget-windows.ts';
import { NEVER } from '../calendar/never.ts';
import { WorkCalendar } from '../calendar/work-calendar.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { Interval, Mode, Problem } from '../problem/problem.ts';

/** Whether an operation has happened or is under way, so that no rule judges it by itself. */
export function isFact(problem: Problem, operation: number): boolean {
  return problem.operations[operation]!.fixed?.by === 'fact';
}

/** When a fact ends; undefined when its end is not told and its progress never gets there. */
export function endOfFact(problem: Problem, operation: number): number | undefined {
  const { fixed, modes } = problem.operations[operation]!;
  if (fixed!.end !== undefined) return fixed!.end;
  const mode = modes[fixed!.mode!]!;
  const { calendar, budget } = calendarOf(problem, mode);
  const end = new WorkedPieces().ofWork(calendar, budget, fixed!.start, mode.work, NEVER - 1);
  return end >= NEVER ? undefined : end;
}

/** The pieces of a fact in which its work was, or is, in progress. */
export function piecesOfFact(problem: Problem, operation: number): Interval[] {
  const { fixed, modes } = problem.operations[operation]!;
  const mode = modes[fixed!.mode!]!;
  const end = endOfFact(problem, operation);
  if (mode.work === 0 || end === undefined) return [];
  const { calendar, budget } = calendarOf(problem, mode);
  const pieces = new WorkedPieces();
  pieces.ofSpan(calendar, budget, fixed!.start, end);
  return Array.from({ length: pieces.count }, (_, k) => ({ from: pieces.from[k]!, to: pieces.to[k]! }));
}

/** The progress and the budget of a mode, compiled. */
export function calendarOf(problem: Problem, mode: Mode): { calendar: WorkCalendar; budget: BudgetWindows | null } {
  const progress = mode.progress === undefined ? { at: [0], rate: [1] } : problem.progresses[mode.progress]!;
  const budget = mode.budget === undefined ? null : new BudgetWindows(problem.budgets[mode.budget]!, 0);
  return { calendar: new WorkCalendar(progress), budget };
}
