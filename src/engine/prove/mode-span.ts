import { CalendarSpan, SteadySpan, type WorkSpan } from '../constraints/work-span.ts';
import type { Interval, Mode, Operation, Problem, Progress } from '../problem/problem.ts';
import { isBoundToCalendar } from './provable.ts';

/** When the mode can begin and then ends, read off progress, conditions, hours and the rules for pauses. */
export function modeSpan(problem: Problem, operation: Operation, mode: Mode): WorkSpan {
  if (!isBoundToCalendar(problem, mode)) return new SteadySpan(mode.work);
  const rate = rateByMinute(problem, mode);
  const hours = mode.work > 0 ? openMinutes(problem, mode) : undefined;
  const allowed = mode.allowed === undefined ? undefined : coverage(mode.allowed, problem.horizon);
  const starts: number[] = [];
  const ends: number[] = [];
  let workedFrom = 0;
  // Ends do not fall as starts grow, so one pointer passes over the minutes once.
  let end = 0;
  let done = 0;
  for (let start = 0; start <= problem.horizon; start++) {
    if (mode.work === 0) {
      if (touches(mode.allowed, start)) {
        starts.push(start);
        ends.push(start);
      }
      continue;
    }
    while (workedFrom < start) {
      if (workedFrom < end) done -= rate[workedFrom]!;
      workedFrom++;
    }
    if (end < start) end = start;
    while (done < mode.work && end < problem.horizon) done += rate[end++]!;
    if (done < mode.work) break;
    if (rate[start] === 0) continue;
    if (!pausesFit(operation, rate, start, end)) continue;
    if (allowed !== undefined && allowed[end]! - allowed[start]! !== end - start) continue;
    if (hours !== undefined && !worksInHours(rate, hours, start, end)) continue;
    starts.push(start);
    ends.push(end);
  }
  return new CalendarSpan(Int32Array.from(starts), Int32Array.from(ends));
}

function rateByMinute(problem: Problem, mode: Mode): Int32Array {
  const rate = new Int32Array(problem.horizon);
  if (mode.progress === undefined) return rate.fill(1);
  const progress: Progress = problem.progresses[mode.progress]!;
  for (let k = 0; k < progress.at.length; k++) {
    rate.fill(progress.rate[k]!, Math.max(0, progress.at[k]!), progress.at[k + 1] ?? problem.horizon);
  }
  return rate;
}

/** Prefix counts of the minutes at which every resource the mode uses is there. */
function openMinutes(problem: Problem, mode: Mode): Int32Array | undefined {
  const bound = mode.uses.filter((use) => use.amount > 0 && problem.resources[use.resource]!.open !== undefined);
  if (bound.length === 0) return undefined;
  const covers = bound.map((use) => coverage(problem.resources[use.resource]!.open!, problem.horizon));
  const open = new Int32Array(problem.horizon + 1);
  for (let t = 0; t < problem.horizon; t++) {
    open[t + 1] = open[t]! + (covers.every((cover) => cover[t + 1]! > cover[t]!) ? 1 : 0);
  }
  return open;
}

/** Prefix counts of the minutes covered by the intervals. */
function coverage(intervals: readonly Interval[], horizon: number): Int32Array {
  const covered = new Uint8Array(horizon);
  for (const { from, to } of intervals) covered.fill(1, Math.max(0, from), Math.max(0, Math.min(to, horizon)));
  const count = new Int32Array(horizon + 1);
  for (let t = 0; t < horizon; t++) count[t + 1] = count[t]! + covered[t]!;
  return count;
}

function touches(allowed: readonly Interval[] | undefined, minute: number): boolean {
  return allowed === undefined || allowed.some(({ from, to }) => from <= minute && minute <= to);
}

function pausesFit(operation: Operation, rate: Int32Array, start: number, end: number): boolean {
  let pause = 0;
  let firstPiece = 0;
  let paused = false;
  for (let t = start; t < end; t++) {
    if (rate[t]! > 0) {
      pause = 0;
      if (!paused) firstPiece++;
    } else {
      paused = true;
      if (!operation.pausable || ++pause > (operation.longestPause ?? end)) return false;
    }
  }
  return !paused || firstPiece >= (operation.leastFirstPiece ?? 0);
}

function worksInHours(rate: Int32Array, hours: Int32Array, start: number, end: number): boolean {
  for (let t = start; t < end; t++) if (rate[t]! > 0 && hours[t + 1] === hours[t]) return false;
  return true;
}
