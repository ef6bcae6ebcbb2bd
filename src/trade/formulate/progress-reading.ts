import type { Interval, Progress } from '../../engine/problem/problem.ts';
import type { Intervals } from '../calendar/intervals.ts';

/** Hours as a progress function: one unit a minute while open, none while shut. */
export function hoursAsProgress(hours: Intervals): Progress {
  const at: number[] = [];
  const rate: number[] = [];
  for (const { from, to } of hours) {
    at.push(from, to);
    rate.push(1, 0);
  }
  return { at, rate };
}

/** Units of work done in [from, to). */
export function doneBetween({ at, rate }: Progress, from: number, to: number): number {
  let done = 0;
  for (let k = 0; k < at.length && at[k]! < to; k++) {
    const until = Math.min(to, at[k + 1] ?? to);
    const since = Math.max(from, at[k]!);
    if (since < until) done += rate[k]! * (until - since);
  }
  return done;
}

/** The minute by which `work` units are done from `start` on; undefined when they never are. */
export function endOfWork({ at, rate }: Progress, start: number, work: number): number | undefined {
  let left = work;
  if (left <= 0) return start;
  for (let k = 0; k < at.length; k++) {
    const since = Math.max(start, at[k]!);
    const until = at[k + 1] ?? Number.POSITIVE_INFINITY;
    if (since >= until || rate[k]! === 0) continue;
    const minutes = Math.ceil(left / rate[k]!);
    if (since + minutes <= until) return since + minutes;
    left -= rate[k]! * (until - since);
  }
  return undefined;
}

/** Stretches of [from, to) in which the rate is positive. */
export function openStretches({ at, rate }: Progress, from: number, to: number): Interval[] {
  const stretches: { from: number; to: number }[] = [];
  for (let k = 0; k < at.length && at[k]! < to; k++) {
    if (rate[k] === 0) continue;
    const since = Math.max(from, at[k]!);
    const until = Math.min(to, at[k + 1] ?? to);
    if (since >= until) continue;
    const last = stretches.at(-1);
    if (last?.to === since) last.to = until;
    else stretches.push({ from: since, to: until });
  }
  return stretches;
}
