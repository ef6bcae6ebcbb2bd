import type { Interval } from '../../engine/problem/problem.ts';
import { modeOf, type PlanNodes } from './plan-nodes.ts';

/**
 * Hours outside of which an operation's place is closed, or somebody it needs is taken by something outside the plan: lists
 * of open intervals, all of which must hold.
 */
export function openingsOfWork(nodes: PlanNodes, operation: number): (readonly Interval[])[] {
  const { problem, schedule, mode } = nodes;
  if (mode[operation]! < 0) return [];
  const openings: (readonly Interval[])[] = [];
  const { stay } = problem.operations[operation]!;
  const into = stay ?? problem.stays.findIndex(({ move }) => move === operation);
  const place = schedule.stays[into]?.place;
  const open = place === undefined ? undefined : problem.places[place]!.open;
  if (open !== undefined) openings.push(open);
  for (const { resource, amount } of modeOf(nodes, operation).uses) {
    const { capacity } = problem.resources[resource]!;
    const taken = problem.takenResources.filter(
      (each) => each.resource === resource && amount > 0 && each.amount + amount > capacity,
    );
    if (taken.length > 0) openings.push(between(taken, problem.horizon));
  }
  return openings;
}

/** What lies between intervals, up to the horizon. */
function between(taken: readonly Interval[], horizon: number): Interval[] {
  const open: Interval[] = [];
  let from = 0;
  for (const each of [...taken].sort((a, b) => a.from - b.from)) {
    if (each.from > from) open.push({ from, to: each.from });
    from = Math.max(from, each.to);
  }
  if (from < horizon) open.push({ from, to: horizon });
  return open;
}
