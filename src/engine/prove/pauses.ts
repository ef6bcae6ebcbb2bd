import type { Mode, Operation, Problem, Progress } from '../problem/problem.ts';
import { isFact } from './facts.ts';

/**
 * Pausable work holds its resources only while it is worked on. When everything that draws on a resource follows one
 * progress, whatever overlaps in a pause overlaps in worked time too, and work may be taken to hold it from start to end.
 */
export function pausesFreeNobody(problem: Problem, resource: number): boolean {
  if (isPlenty(problem, resource)) return true;
  let pausable = false;
  const followed = new Set<string>();
  for (const [o, operation] of problem.operations.entries()) {
    if (isFact(problem, o)) continue;
    for (const mode of operation.modes) {
      if (mode.work === 0 || !mode.uses.some((use) => use.resource === resource && use.amount > 0)) continue;
      if (mayPause(operation, mode)) {
        if (mode.budget !== undefined) return false;
        pausable = true;
      }
      followed.add(openPattern(problem, mode));
    }
  }
  return !pausable || followed.size === 1;
}

/** Whether two operations in these modes overlap in worked time whenever they overlap at all. */
export function overlapAtWork(problem: Problem, a: Operation, modeOfA: Mode, b: Operation, modeOfB: Mode): boolean {
  const pauses = [mayPause(a, modeOfA), mayPause(b, modeOfB)];
  if (!pauses.includes(true)) return true;
  if ((pauses[0] && modeOfA.budget !== undefined) || (pauses[1] && modeOfB.budget !== undefined)) return false;
  return openPattern(problem, modeOfA) === openPattern(problem, modeOfB);
}

function mayPause({ pausable }: Operation, { progress, budget }: Mode): boolean {
  return pausable && (progress !== undefined || budget !== undefined);
}

/** Whether all work could hold the resource at once, so that whatever a pause frees of it is wanted by nobody. */
function isPlenty({ operations, resources, takenResources }: Problem, resource: number): boolean {
  let asked = 0;
  for (const taken of takenResources) if (taken.resource === resource) asked += taken.amount;
  for (const { modes } of operations) {
    asked += Math.max(...modes.map(({ uses }) => uses.find((use) => use.resource === resource)?.amount ?? 0));
  }
  return asked <= resources[resource]!.capacity;
}

const patterns = new WeakMap<Progress, string>();

/** The minutes of positive rate, as text to compare. */
function openPattern(problem: Problem, { progress: index }: Mode): string {
  if (index === undefined) return '';
  const progress = problem.progresses[index]!;
  let pattern = patterns.get(progress);
  if (pattern === undefined) {
    const { at, rate } = progress;
    pattern = at
      .map((minute, k) => [minute, rate[k]! > 0] as const)
      .filter(([, open], k) => k === 0 || open !== rate[k - 1]! > 0)
      .map(([minute, open]) => `${minute}${open ? '+' : '-'}`)
      .join();
    patterns.set(progress, pattern);
  }
  return pattern;
}
