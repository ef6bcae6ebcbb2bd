import { NEVER } from '../calendar/never.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import { PausingSpan } from '../constraints/pausing-span.ts';
import { CalendarSpan, SteadySpan, type WorkSpan } from '../constraints/work-span.ts';
import type { Interval, Mode, Operation, Problem } from '../problem/problem.ts';
import { calendarOf, endOfFact, isFact } from './facts.ts';
import { isBoundToCalendar, spanKey } from './provable.ts';

/** By operation and mode, when it can begin and then ends. Modes that agree in this share one table. */
export function spansOf(problem: Problem): WorkSpan[][] {
  const known = new Map<string, WorkSpan>();
  return problem.operations.map((operation, o) => {
    if (isFact(problem, o)) {
      const span = new SteadySpan(endOfFact(problem, o)! - operation.fixed!.start);
      return operation.modes.map(() => span);
    }
    return operation.modes.map((mode) => {
      const key = spanKey(problem, operation, mode);
      let span = known.get(key);
      if (span === undefined) {
        span = modeSpan(problem, operation, mode);
        known.set(key, span);
      }
      return span;
    });
  });
}

/** When the mode can begin and then ends, read off progress, budget, conditions, hours and the rules for pauses. */
export function modeSpan(problem: Problem, operation: Operation, mode: Mode): WorkSpan {
  if (!isBoundToCalendar(problem, mode)) return new SteadySpan(mode.work);
  if (mode.work === 0) {
    const minutes = Array.from({ length: problem.horizon + 1 }, (_, minute) => minute);
    const touched = Int32Array.from(minutes.filter((minute) => touches(mode.allowed, minute)));
    return new CalendarSpan(touched, touched);
  }
  const { calendar, budget } = calendarOf(problem, mode);
  const pieces = new WorkedPieces();
  const hours = hoursOf(problem, mode);
  const allowed = mode.allowed === undefined ? undefined : uncovered(mode.allowed, problem.horizon);
  const starts: number[] = [];
  const ends: number[] = [];
  let pauses = false;
  for (let run = 0; run < calendar.runFrom.length; run++) {
    const until = Math.min(calendar.runTo[run]!, problem.horizon);
    for (let start = Math.max(0, calendar.runFrom[run]!); start < until; start++) {
      const end = pieces.ofWork(calendar, budget, start, mode.work, problem.horizon);
      if (end >= NEVER) break;
      if (pieces.from[0] !== start || !pausesFit(operation, pieces)) continue;
      if (allowed !== undefined && allowed[end]! > allowed[start]!) continue;
      if (!hours.every((out) => worksInHours(pieces, out))) continue;
      starts.push(start);
      ends.push(end);
      pauses ||= pieces.count > 1;
    }
  }
  const [from, to] = [Int32Array.from(starts), Int32Array.from(ends)];
  return pauses ? new PausingSpan(from, to, calendar, budget) : new CalendarSpan(from, to);
}

/** By resource that has hours, the minutes outside them counted up. */
function hoursOf(problem: Problem, mode: Mode): Int32Array[] {
  return mode.uses.flatMap(({ resource, amount }) => {
    const { open } = problem.resources[resource]!;
    return amount === 0 || open === undefined ? [] : [uncovered(open, problem.horizon)];
  });
}

/** Prefix counts of the minutes that no interval covers. */
function uncovered(intervals: readonly Interval[], horizon: number): Int32Array {
  const covered = new Uint8Array(horizon);
  for (const { from, to } of intervals) covered.fill(1, Math.max(0, from), Math.max(0, Math.min(to, horizon)));
  const count = new Int32Array(horizon + 1);
  for (let t = 0; t < horizon; t++) count[t + 1] = count[t]! + 1 - covered[t]!;
  return count;
}

function touches(allowed: readonly Interval[] | undefined, minute: number): boolean {
  return allowed === undefined || allowed.some(({ from, to }) => from <= minute && minute <= to);
}

function pausesFit({ pausable, longestPause, leastFirstPiece }: Operation, pieces: WorkedPieces): boolean {
  if (pieces.count === 1) return true;
  if (!pausable || pieces.to[0]! - pieces.from[0]! < (leastFirstPiece ?? 0)) return false;
  if (longestPause === undefined) return true;
  for (let k = 1; k < pieces.count; k++) if (pieces.from[k]! - pieces.to[k - 1]! > longestPause) return false;
  return true;
}

function worksInHours(pieces: WorkedPieces, out: Int32Array): boolean {
  for (let k = 0; k < pieces.count; k++) if (out[pieces.to[k]!]! > out[pieces.from[k]!]!) return false;
  return true;
}
