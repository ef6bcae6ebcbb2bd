import type { Problem } from '../problem/problem.ts';
import { rows } from './arc-rows.ts';

/**
 * A job shop, flexible or not: every operation is done in one piece on one machine of a choice, and lags are minimum lags
 * from ends to starts. Arcs are in one array per direction: `first[o]..first[o + 1]`.
 */
export interface MachineShop {
  readonly operations: number;
  readonly machines: number;
  readonly release: Int32Array;
  /** Per operation: its modes, as ranges of `machine` and `minutes`. `modeOf` is the mode's index in the problem. */
  readonly firstMode: Int32Array;
  readonly machine: Int32Array;
  readonly minutes: Int32Array;
  readonly modeOf: Int32Array;
  readonly firstBefore: Int32Array;
  readonly before: Int32Array;
  readonly beforeGap: Int32Array;
  readonly firstAfter: Int32Array;
  readonly after: Int32Array;
  readonly afterGap: Int32Array;
}

const MOST_OPERATIONS = 1200;

/** The shop that the problem is, or undefined when it is something else. */
export function asMachineShop(problem: Problem): MachineShop | undefined {
  const n = problem.operations.length;
  if (n > MOST_OPERATIONS || problem.tiers.length !== 1 || problem.tiers[0] !== 'makespan') return undefined;
  if (problem.takenResources.length > 0) return undefined;
  const firstMode = [0];
  const machine: number[] = [];
  const minutes: number[] = [];
  const modeOf: number[] = [];
  for (const { modes, deadline, fixed } of problem.operations) {
    if (deadline !== undefined || fixed !== undefined) return undefined;
    for (const [m, { work, progress, allowed, uses }] of modes.entries()) {
      const use = uses[0];
      if (work <= 0 || progress !== undefined || allowed !== undefined || uses.length !== 1) return undefined;
      const { capacity, open } = problem.resources[use!.resource]!;
      if (open !== undefined || use!.amount > capacity || 2 * use!.amount <= capacity) return undefined;
      machine.push(use!.resource);
      minutes.push(work);
      modeOf.push(m);
    }
    firstMode.push(machine.length);
  }
  const arcs: { from: number; to: number; gap: number }[] = [];
  for (const { from, to, min, max } of problem.lags) {
    if (from.edge !== 'end' || to.edge !== 'start' || min < 0 || max !== undefined) return undefined;
    arcs.push({ from: from.operation, to: to.operation, gap: min });
  }
  const [firstBefore, before, beforeGap] = rows(n, arcs, 'to', 'from');
  const [firstAfter, after, afterGap] = rows(n, arcs, 'from', 'to');
  return {
    operations: n,
    machines: problem.resources.length,
    release: Int32Array.from(problem.operations, ({ release, job }) =>
      Math.max(problem.now, release ?? 0, problem.jobs[job]!.release),
    ),
    firstMode: Int32Array.from(firstMode),
    machine: Int32Array.from(machine),
    minutes: Int32Array.from(minutes),
    modeOf: Int32Array.from(modeOf),
    firstBefore,
    before,
    beforeGap,
    firstAfter,
    after,
    afterGap,
  };
}
