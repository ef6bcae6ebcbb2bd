import type { Taken } from '../constraints/timetable.ts';
import type { Problem } from '../problem/problem.ts';

/**
 * What is taken of a resource from outside, as disjoint spans of at most its capacity: what overflows by itself is
 * nobody's fault here. Minutes at which pausable work on the resource pauses are left out, because work that is taken to
 * hold it from start to end does not hold it then.
 */
export function takenOf(problem: Problem, resource: number): Taken[] {
  const { capacity } = problem.resources[resource]!;
  const taken = problem.takenResources.filter((t) => t.resource === resource && t.amount > 0 && t.from < t.to);
  const progress = pausableProgress(problem, resource);
  const cuts = new Set<number>();
  for (const { from, to } of taken) cuts.add(from).add(to);
  for (const minute of progress?.at ?? []) cuts.add(minute);
  const at = [...cuts].sort((a, b) => a - b);
  const spans: Taken[] = [];
  for (let k = 0; k + 1 < at.length; k++) {
    const from = at[k]!;
    const sum = taken.reduce((held, t) => (t.from <= from && from < t.to ? held + t.amount : held), 0);
    const open = progress === undefined || progress.rate[progress.at.findLastIndex((minute) => minute <= from)]! > 0;
    if (sum > 0 && open) spans.push({ from, to: at[k + 1]!, amount: Math.min(sum, capacity) });
  }
  return spans;
}

function pausableProgress(problem: Problem, resource: number) {
  for (const operation of problem.operations) {
    if (!operation.pausable) continue;
    for (const mode of operation.modes) {
      const uses = mode.work > 0 && mode.uses.some((use) => use.resource === resource && use.amount > 0);
      if (uses && mode.progress !== undefined) return problem.progresses[mode.progress]!;
    }
  }
  return undefined;
}
