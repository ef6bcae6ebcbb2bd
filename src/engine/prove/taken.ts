import type { Taken } from '../constraints/timetable.ts';
import type { Problem } from '../problem/problem.ts';
import { isFact, piecesOfFact } from './facts.ts';

/**
 * What is taken of a resource from outside or by facts, as disjoint spans of at most its capacity: what overflows by itself
 * is nobody's fault here. Where pausable work is taken to hold the resource `fromStartToEnd`, minutes at which it pauses are
 * left out, because it does not hold it then.
 */
export function takenOf(problem: Problem, resource: number, fromStartToEnd = true): Taken[] {
  const { capacity } = problem.resources[resource]!;
  const outside = problem.takenResources.filter((t) => t.resource === resource && t.amount > 0 && t.from < t.to);
  const taken: Taken[] = [...outside, ...takenByFacts(problem, resource)];
  const progress = fromStartToEnd ? pausableProgress(problem, resource) : undefined;
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

function takenByFacts(problem: Problem, resource: number): Taken[] {
  return problem.operations.flatMap(({ fixed, modes }, o) => {
    if (!isFact(problem, o)) return [];
    const amount = modes[fixed!.mode!]!.uses.find((use) => use.resource === resource)?.amount ?? 0;
    return amount === 0 ? [] : piecesOfFact(problem, o).map(({ from, to }) => ({ from, to, amount }));
  });
}

function pausableProgress(problem: Problem, resource: number) {
  for (const [o, operation] of problem.operations.entries()) {
    if (!operation.pausable || isFact(problem, o)) continue;
    for (const mode of operation.modes) {
      const uses = mode.work > 0 && mode.uses.some((use) => use.resource === resource && use.amount > 0);
      if (uses && mode.progress !== undefined) return problem.progresses[mode.progress]!;
    }
  }
  return undefined;
}
