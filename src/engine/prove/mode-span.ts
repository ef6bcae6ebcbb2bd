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
  const minutes = new Minutes(problem);
  return problem.operations.map((operation, o) => {
    if (isFact(problem, o)) {
      const span = new SteadySpan(endOfFact(problem, o)! - operation.fixed!.start);
      return operation.modes.map(() => span);
    }
    return operation.modes.map((mode) => {
      const key = spanKey(problem, operation, mode);
      let span = known.get(key);
      if (span === undefined) {
        span = modeSpan(problem, operation, mode, minutes);
        known.set(key, span);
      }
      return span;
    });
  });
}

/** When the mode can begin and then ends, read off progress, budget, conditions, hours and the rules for pauses. */
export function modeSpan(problem: Problem, operation: Operation, mode: Mode, minutes = new Minutes(problem)): WorkSpan {
  if (!isBoundToCalendar(problem, mode)) return new SteadySpan(mode.work);
  if (mode.work === 0) {
    const all = Array.from({ length: problem.horizon + 1 }, (_, minute) => minute);
    const touched = Int32Array.from(all.filter((minute) => touches(mode.allowed, minute)));
    return new CalendarSpan(touched, touched);
  }
  const { calendar, budget } = calendarOf(problem, mode);
  const { starts, ends } = minutes;
  const pieces = new WorkedPieces();
  const hours = mode.uses.flatMap(({ resource, amount }) => (amount === 0 ? [] : (minutes.outOfHours(resource) ?? [])));
  const conditions = mode.allowed === undefined ? [] : [minutes.uncovered(mode.allowed)];
  let count = 0;
  let pauses = false;
  for (let run = 0; run < calendar.runFrom.length; run++) {
    const opens = Math.max(0, calendar.runFrom[run]!);
    const closes = Math.min(calendar.runTo[run]!, problem.horizon);
    // Work that never pauses and lies in a run that is open to it throughout needs no look at its pieces.
    const simple = budget === null && calendar.runRate[run] !== 0;
    const minutesInRun = simple ? Math.ceil(mode.work / calendar.runRate[run]!) : 0;
    const free = [...hours, ...conditions].every((out) => opens >= closes || out[closes]! === out[opens]!);
    for (let start = opens; start < closes; start++) {
      if (simple && start + minutesInRun <= closes) {
        pieces.from[0] = start;
        pieces.to[0] = start + minutesInRun;
        pieces.count = 1;
      } else {
        if (simple && !operation.pausable) break;
        if (pieces.ofWork(calendar, budget, start, mode.work, problem.horizon) >= NEVER) break;
        if (pieces.from[0] !== start || !pausesFit(operation, pieces)) continue;
      }
      const end = pieces.to[pieces.count - 1]!;
      if (pieces.count > 1 || !free) {
        if (!conditions.every((out) => out[end]! === out[start]!)) continue;
        if (!hours.every((out) => worksInHours(pieces, out))) continue;
      }
      pauses ||= pieces.count > 1;
      starts[count] = start;
      ends[count++] = end;
    }
  }
  const [from, to] = [starts.slice(0, count), ends.slice(0, count)];
  return pauses ? new PausingSpan(from, to, calendar, budget) : new CalendarSpan(from, to);
}

/** What the tables of one problem share: room to write one, and the minutes outside the hours of each resource. */
class Minutes {
  readonly starts: Int32Array;
  readonly ends: Int32Array;
  private readonly problem: Problem;
  private readonly byResource = new Map<number, Int32Array>();

  constructor(problem: Problem) {
    this.problem = problem;
    this.starts = new Int32Array(problem.horizon + 1);
    this.ends = new Int32Array(problem.horizon + 1);
  }

  /** The minutes outside the hours of a resource, counted up; undefined when it is always there. */
  outOfHours(resource: number): Int32Array | undefined {
    const { open } = this.problem.resources[resource]!;
    if (open === undefined) return undefined;
    let count = this.byResource.get(resource);
    if (count === undefined) {
      count = this.uncovered(open);
      this.byResource.set(resource, count);
    }
    return count;
  }

  /** The minutes that no interval covers, counted up. */
  uncovered(intervals: readonly Interval[]): Int32Array {
    const { horizon } = this.problem;
    const covered = new Uint8Array(horizon);
    for (const { from, to } of intervals) covered.fill(1, Math.max(0, from), Math.max(0, Math.min(to, horizon)));
    const count = new Int32Array(horizon + 1);
    for (let t = 0; t < horizon; t++) count[t + 1] = count[t]! + 1 - covered[t]!;
    return count;
  }
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
