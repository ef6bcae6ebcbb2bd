import type { Problem } from '../problem/problem.ts';
import { rows } from './arc-rows.ts';

/**
 * A project: operations of one mode and fixed duration, minimum lags from ends to starts, resources of any capacity.
 * Arcs and demands are in rows: `first[o]..first[o + 1]`.
 */
export interface Project {
  readonly operations: number;
  /** By when all can be done one after another: no serial schedule runs past it. */
  readonly horizon: number;
  readonly minutes: Int32Array;
  readonly release: Int32Array;
  readonly firstBefore: Int32Array;
  readonly before: Int32Array;
  readonly beforeGap: Int32Array;
  readonly firstAfter: Int32Array;
  readonly after: Int32Array;
  readonly afterGap: Int32Array;
  readonly firstDemand: Int32Array;
  readonly demandOn: Int32Array;
  readonly demand: Int32Array;
  readonly capacity: Int32Array;
}

const MOST_CELLS = 4_000_000;

/** The project that the problem is, or undefined when it is something else. */
export function asProject(problem: Problem): Project | undefined {
  const { operations, resources, lags } = problem;
  if (problem.tiers.length !== 1 || problem.tiers[0] !== 'makespan') return undefined;
  if (problem.takenResources.length > 0 || resources.some((resource) => resource.open !== undefined)) return undefined;
  for (const { modes, deadline, fixed } of operations) {
    const [mode, other] = modes;
    if (other !== undefined || deadline !== undefined || fixed !== undefined) return undefined;
    if (mode!.progress !== undefined || mode!.allowed !== undefined) return undefined;
    if (mode!.uses.some(({ resource, amount }) => amount > resources[resource]!.capacity)) return undefined;
  }
  const arcs: { from: number; to: number; gap: number }[] = [];
  for (const { from, to, min, max } of lags) {
    if (from.edge !== 'end' || to.edge !== 'start' || min < 0 || max !== undefined) return undefined;
    arcs.push({ from: from.operation, to: to.operation, gap: min });
  }
  const n = operations.length;
  const releases = operations.map(({ release, job }) =>
    Math.max(problem.now, release ?? 0, problem.jobs[job]!.release),
  );
  const horizon =
    Math.max(0, ...releases) +
    operations.reduce((sum, { modes }) => sum + modes[0]!.work, 0) +
    arcs.reduce((sum, { gap }) => sum + gap, 0);
  if (resources.length * horizon > MOST_CELLS) return undefined;
  const [firstBefore, before, beforeGap] = rows(n, arcs, 'to', 'from');
  const [firstAfter, after, afterGap] = rows(n, arcs, 'from', 'to');
  if (!isAcyclic(n, firstBefore, firstAfter, after)) return undefined;
  const demands = operations.map(({ modes }) => (modes[0]!.work > 0 ? modes[0]!.uses.filter((u) => u.amount > 0) : []));
  const firstDemand = new Int32Array(n + 1);
  for (let o = 0; o < n; o++) firstDemand[o + 1] = firstDemand[o]! + demands[o]!.length;
  return {
    operations: n,
    horizon,
    minutes: Int32Array.from(operations, ({ modes }) => modes[0]!.work),
    release: Int32Array.from(releases),
    firstBefore,
    before,
    beforeGap,
    firstAfter,
    after,
    afterGap,
    firstDemand,
    demandOn: Int32Array.from(demands.flat(), ({ resource }) => resource),
    demand: Int32Array.from(demands.flat(), ({ amount }) => amount),
    capacity: Int32Array.from(resources, ({ capacity }) => capacity),
  };
}

/** Milestones can follow one another in a circle without contradiction; lists of activities cannot. */
function isAcyclic(n: number, firstBefore: Int32Array, firstAfter: Int32Array, after: Int32Array): boolean {
  const open = Int32Array.from({ length: n }, (_, o) => firstBefore[o + 1]! - firstBefore[o]!);
  const ready = Array.from(open.keys()).filter((o) => open[o] === 0);
  for (let k = 0; k < ready.length; k++) {
    const o = ready[k]!;
    for (let a = firstAfter[o]!; a < firstAfter[o + 1]!; a++) if (--open[after[a]!]! === 0) ready.push(after[a]!);
  }
  return ready.length === n;
}
