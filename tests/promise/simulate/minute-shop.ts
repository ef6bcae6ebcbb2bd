import type { Job, Lag, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { DAY, follows, hours, operation, problemOf } from './small-problem.ts';

/** Kinds of work of the invented shop: who does it (-1: time alone), planned minutes. */
export const KINDS = [
  { name: 'wash', person: 0, minutes: 90 },
  { name: 'polish', person: 1, minutes: 240 },
  { name: 'coat', person: 2, minutes: 120 },
  { name: 'cure', person: -1, minutes: 300 },
  { name: 'inspection', person: 0, minutes: 40 },
] as const;

export interface MinuteBook {
  readonly releases: readonly number[];
  /** Work of job j's operation k, as it will turn out. */
  readonly work: readonly (readonly number[])[];
}

const isOpen = (minute: number): boolean => {
  const ofDay = minute % DAY;
  return (ofDay >= 480 && ofDay < 720) || (ofDay >= 780 && ofDay < 1020);
};

/**
 * Carries a book out minute by minute, with nothing in common with the simulator: each person takes their work in the
 * given order, one at a time, in their hours; the work of a car follows in order. Returns starts and ends.
 *
 * @param slower by how much work that begins on a day is slower, by day.
 */
export function carryOut(
  { releases, work }: MinuteBook,
  queues: readonly (readonly (readonly [job: number, kind: number])[])[],
  slower: (day: number) => number = () => 1,
): { readonly start: number[][]; readonly end: number[][] } {
  const start = work.map((ofJob) => ofJob.map(() => -1));
  const end = work.map((ofJob) => ofJob.map(() => -1));
  const left = work.map((ofJob) => [...ofJob]);
  const next = queues.map(() => 0);
  let unfinished = work.length * KINDS.length;
  let minute = 0;
  const ready = ([j, k]: readonly [number, number]) =>
    k === 0 ? releases[j]! <= minute : end[j]![k - 1]! >= 0 && end[j]![k - 1]! <= minute;
  const workOn = ([j, k]: readonly [number, number]) => {
    if (start[j]![k]! < 0) {
      start[j]![k] = minute;
      left[j]![k] = Math.max(1, Math.round(work[j]![k]! * slower(Math.floor(minute / DAY))));
    }
    left[j]![k]!--;
    if (left[j]![k]! > 0) return;
    end[j]![k] = minute + 1;
    unfinished--;
  };
  const alone = work.flatMap((_, j) => KINDS.flatMap(({ person }, k) => (person < 0 ? [[j, k] as const] : [])));
  for (; unfinished > 0; minute++) {
    for (const one of alone) if (end[one[0]]![one[1]]! < 0 && ready(one)) workOn(one);
    if (!isOpen(minute)) continue;
    for (const [person, queue] of queues.entries()) {
      const mine = queue[next[person]!];
      if (mine === undefined || !ready(mine)) continue;
      workOn(mine);
      if (end[mine[0]]![mine[1]]! >= 0) next[person]!++;
    }
  }
  return { start, end };
}

/** Everybody's work in the order of a plan in which everything takes as long as planned, first come first served. */
export function planOf(releases: readonly number[]): {
  readonly problem: Problem;
  readonly schedule: Schedule;
  readonly queues: readonly (readonly (readonly [number, number])[])[];
} {
  const work = releases.map(() => KINDS.map(({ minutes }) => minutes));
  const queues = [0, 1, 2].map((person) =>
    releases.flatMap((_, j) => KINDS.flatMap((kind, k) => (kind.person === person ? [[j, k] as const] : []))),
  );
  // Washing all cars before inspecting any would starve the inspections: order by when they could be at the earliest.
  queues[0]!.sort(
    (a, b) => releases[a[0]]! + (a[1] > 0 ? 1.5 * DAY : 0) - releases[b[0]]! - (b[1] > 0 ? 1.5 * DAY : 0),
  );
  const { start, end } = carryOut({ releases, work }, queues);
  const operations: Operation[] = [];
  const lags: Lag[] = [];
  const jobs: Job[] = releases.map((release, j) => ({ name: `job ${j + 1}`, stays: [], release }));
  for (const j of releases.keys()) {
    for (const [k, { name, person, minutes }] of KINDS.entries()) {
      const mode =
        person < 0 ? { work: minutes } : { work: minutes, progress: 0, uses: [{ resource: person, amount: 100 }] };
      if (k > 0) lags.push(follows(operations.length - 1, operations.length));
      operations.push(operation(name, mode, { job: j, pausable: person >= 0 }));
    }
  }
  const problem = problemOf({
    horizon: 30 * DAY,
    progresses: [hours(30)],
    resources: ['Ada', 'Ben', 'Cy'].map((name) => ({ name, capacity: 100, kind: 'person' })),
    jobs,
    operations,
    lags,
  });
  const times = releases.flatMap((_, j) => KINDS.map((_, k) => ({ start: start[j]![k]!, end: end[j]![k]!, mode: 0 })));
  return { problem, schedule: { operations: times, stays: [] }, queues };
}
