import type { Interval, Mode, Problem, Progress } from '../problem/problem.ts';
import type { Nearest } from './nearest.ts';

const DAY = 1440;

/**
 * A person working some minutes longer at the end of every day they work, as overtime; what is left of other people's
 * hours still binds. Undefined for a person who is always there.
 */
export function moreHours(problem: Problem, person: number, minutes: number): Nearest | undefined {
  const { name, open, overtime } = problem.resources[person]!;
  if (open === undefined || open.length === 0) return undefined;
  const evenings = lastOfEachDay(open).map(({ to }) => ({ from: to, to: to + minutes }));
  const added = evenings.filter(({ from }) => from >= problem.now);
  if (added.length === 0) return undefined;
  const hours = united([...open, ...added]);
  const resources = problem.resources.map((resource, r) =>
    r === person ? { ...resource, open: hours, overtime: united([...(overtime ?? []), ...added]) } : resource,
  );
  const progresses = [...problem.progresses];
  const operations = problem.operations.map((operation) => {
    if (operation.fixed?.by === 'fact') return operation;
    const modes = operation.modes.map((mode) =>
      withLongerDays({ ...problem, resources }, progresses, mode, person, added),
    );
    return { ...operation, modes };
  });
  const text = `Let "${name}" work up to ${minutes} minutes longer each day.`;
  return { text, relaxed: { ...problem, resources, progresses, operations } };
}

function withLongerDays(
  problem: Problem,
  progresses: Progress[],
  mode: Mode,
  person: number,
  added: readonly Interval[],
): Mode {
  if (mode.progress === undefined || !mode.uses.some(({ resource }) => resource === person)) return mode;
  const before = problem.progresses[mode.progress]!;
  if (before.rate.some((rate) => rate > 1)) return mode;
  const crew = mode.uses.flatMap(({ resource }) => problem.resources[resource]!.open ?? []);
  const members = mode.uses.filter(({ resource }) => problem.resources[resource]!.open !== undefined).length;
  const together = added.filter(({ from, to }) => coverage(crew, from, to) === members);
  const spans = united([...workedSpans(before, problem.horizon), ...together]);
  const at = spans.flatMap(({ from, to }) => [from, to]);
  return { ...mode, progress: progresses.push({ at, rate: at.map((_, k) => 1 - (k % 2)) }) - 1 };
}

/** How many of some intervals cover the whole of [from, to). */
function coverage(intervals: readonly Interval[], from: number, to: number): number {
  return intervals.filter((interval) => interval.from <= from && to <= interval.to).length;
}

function workedSpans({ at, rate }: Progress, horizon: number): Interval[] {
  return at.flatMap((from, k) => {
    const to = at[k + 1] ?? Math.max(horizon, from) + DAY;
    return rate[k]! > 0 ? [{ from, to }] : [];
  });
}

/** The last interval of each day: one with at least a few hours, a night, before the next. */
function lastOfEachDay(open: readonly Interval[]): Interval[] {
  const NIGHT = 240;
  return open.filter(({ to }, k) => {
    const next = open[k + 1];
    return next === undefined || next.from - to >= NIGHT;
  });
}

/** Sorted, with overlapping and touching intervals made one. */
function united(intervals: readonly Interval[]): Interval[] {
  const result: { from: number; to: number }[] = [];
  for (const { from, to } of [...intervals].sort((a, b) => a.from - b.from)) {
    const last = result.at(-1);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else result.push({ from, to });
  }
  return result;
}
