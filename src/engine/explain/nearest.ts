import type { Problem } from '../problem/problem.ts';
import type { Conflict } from '../problem/solution.ts';
import type { Attempts } from './attempts.ts';
import { earlierDropOff } from './earlier-drop-off.ts';
import { laterPickup } from './later-pickup.ts';
import { otherBay } from './other-bay.ts';
import { moreHours } from './overtime.ts';
import { operation } from './parts.ts';
import { without } from './without.ts';

/** A change that gives a plan: what it is, in words, and the problem with it. */
export interface Nearest {
  readonly text: string;
  readonly relaxed: Problem;
}

/** Minutes by which something is changed, tried from the least on. */
const STEPS = [15, 30, 60, 120, 240, 480, 1440, 2880, 4320, 10_080];
/** Longer overtime than this in one evening is not offered. */
const OVERTIME_STEPS = [30, 60, 120];

/** For each lever the desk has, the least step of it that gives a plan. Levers that concern the conflict only. */
export function findNearest(problem: Problem, conflict: Conflict, attempts: Attempts): Nearest[] {
  const jobs = jobsOf(problem, conflict);
  const found: Nearest[] = [];
  // Each change is made only when it is tried: a longer day rewrites every calendar.
  const tryEach = (changes: readonly (() => Nearest | undefined)[]) => {
    for (const make of changes) {
      if (attempts.spent) return;
      const change = make();
      if (change === undefined || !attempts.hasPlan(change.relaxed)) continue;
      found.push(change);
      return;
    }
  };
  for (const job of jobs) tryEach(STEPS.map((minutes) => () => laterPickup(problem, job, minutes)));
  for (const job of jobs) tryEach(STEPS.map((minutes) => () => earlierDropOff(problem, job, minutes)));
  for (const [resource, { kind }] of problem.resources.entries()) {
    if (kind === 'person') tryEach(OVERTIME_STEPS.map((minutes) => () => moreHours(problem, resource, minutes)));
  }
  for (const [stay, { job }] of problem.stays.entries()) {
    if (!jobs.includes(job)) continue;
    for (const place of problem.places.keys()) tryEach([() => otherBay(problem, stay, place)]);
  }
  for (const part of conflict.parts) {
    if (part.kind !== 'fixed') continue;
    const text = `Let ${operation(problem, part.index)} start at another time than it is frozen at.`;
    tryEach([() => ({ text, relaxed: without(problem, [part]) })]);
  }
  return found;
}

/** The jobs that parts of the conflict name; all of them when it names none. */
function jobsOf(problem: Problem, conflict: Conflict): number[] {
  const jobs = new Set<number>();
  const addOperation = (o: number) => jobs.add(problem.operations[o]!.job);
  for (const { kind, index } of conflict.parts) {
    if (kind === 'deadline' || kind === 'fixed' || kind === 'operation') addOperation(index);
    else if (kind === 'lag') addOperation(problem.lags[index]!.to.operation);
    else if (kind === 'crew') addOperation(problem.sameCrew[index]!.second);
    else if (kind === 'opening') jobs.add(index);
    else if (kind === 'still') jobs.add(problem.stills[index]!.job);
  }
  return jobs.size > 0 ? [...jobs].sort((a, b) => a - b) : [...problem.jobs.keys()];
}
