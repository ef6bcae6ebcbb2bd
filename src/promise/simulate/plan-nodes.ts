import type { Mode, Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { sameWay } from './same-way.ts';

export const ABSENT = 0;
export const PRESENT = 1;
/** A remedy: present in a scenario when a window of that scenario lapses. */
export const ON_DEMAND = 2;

/**
 * What is simulated: operations, then one node a stay (the car's arrival in it), then one node a job (the car's leaving).
 * Times are planned ones; a remedy that the plan does without stands at the start of the work it would come before.
 */
export interface PlanNodes {
  readonly problem: Problem;
  readonly schedule: Schedule;
  readonly count: number;
  readonly presence: Uint8Array;
  readonly start: Int32Array;
  readonly end: Int32Array;
  /** By operation; -1 when absent. */
  readonly mode: Int32Array;
  /** It happened, and has ended. */
  readonly settled: Uint8Array;
  /** It happened, and is under way. */
  readonly underWay: Uint8Array;
  /** By remedy: the operation before which it would come; -1 otherwise. */
  readonly demandedAt: Int32Array;
  /** By job: its present stays, in order. */
  readonly stops: readonly (readonly number[])[];
}

export const stayNode = (problem: Problem, stay: number): number => problem.operations.length + stay;
export const leavingNode = (problem: Problem, job: number): number =>
  problem.operations.length + problem.stays.length + job;

export function modeOf({ problem, mode }: PlanNodes, operation: number): Mode {
  return problem.operations[operation]!.modes[mode[operation]!]!;
}

/** It happened: it is under way, or has ended. */
export function hasBegun({ settled, underWay }: PlanNodes, node: number): boolean {
  return settled[node] === 1 || underWay[node] === 1;
}

export function readNodes(problem: Problem, schedule: Schedule): PlanNodes {
  const operations = problem.operations.length;
  const count = operations + problem.stays.length + problem.jobs.length;
  const nodes = {
    problem,
    schedule,
    count,
    presence: new Uint8Array(count),
    start: new Int32Array(count),
    end: new Int32Array(count),
    mode: new Int32Array(operations).fill(-1),
    settled: new Uint8Array(count),
    underWay: new Uint8Array(count),
    demandedAt: new Int32Array(operations).fill(-1),
    stops: stopsOf(problem, schedule),
  };
  for (let o = 0; o < operations; o++) {
    const planned = schedule.operations[o];
    if (planned == null) continue;
    nodes.presence[o] = PRESENT;
    nodes.mode[o] = planned.mode;
    nodes.start[o] = planned.start;
    nodes.end[o] = planned.end;
    if (problem.operations[o]!.fixed?.by !== 'fact') continue;
    if (planned.end > problem.now) nodes.underWay[o] = 1;
    else nodes.settled[o] = 1;
  }
  readRemedies(nodes);
  for (let s = 0; s < problem.stays.length; s++) {
    const planned = schedule.stays[s];
    if (planned == null) continue;
    const node = stayNode(problem, s);
    nodes.presence[node] = PRESENT;
    nodes.start[node] = planned.from;
    nodes.end[node] = planned.from;
    if (problem.stays[s]!.fixed?.from !== undefined) nodes.settled[node] = 1;
  }
  for (let j = 0; j < problem.jobs.length; j++) {
    const node = leavingNode(problem, j);
    const leaves = plannedLeaving(nodes, j);
    nodes.presence[node] = PRESENT;
    nodes.start[node] = leaves;
    nodes.end[node] = leaves;
  }
  return nodes;
}

function stopsOf({ jobs }: Problem, schedule: Schedule): number[][] {
  const stops: number[][] = [];
  for (const { stays } of jobs) {
    const present: number[] = [];
    for (const stay of stays) if (schedule.stays[stay] != null) present.push(stay);
    stops.push(present);
  }
  return stops;
}

/** When a job is handed over, or else leaves its last place, or else is done with. */
function plannedLeaving({ problem, schedule, stops, end }: PlanNodes, job: number): number {
  const { handover } = problem.jobs[job]!;
  const handedOver = handover === undefined ? undefined : schedule.operations[handover];
  if (handedOver != null) return handedOver.end;
  const last = stops[job]!.at(-1);
  if (last !== undefined) return schedule.stays[last]!.to;
  let done = 0;
  for (let o = 0; o < problem.operations.length; o++) {
    if (problem.operations[o]!.job === job) done = Math.max(done, end[o]!);
  }
  return done;
}

function readRemedies(nodes: {
  readonly problem: Problem;
  readonly schedule: Schedule;
  readonly presence: Uint8Array;
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly mode: Int32Array;
  readonly demandedAt: Int32Array;
}): void {
  const { problem, schedule } = nodes;
  for (const lag of problem.lags) {
    const to = lag.to.operation;
    const planned = schedule.operations[to];
    if (lag.remedy === undefined || planned == null || schedule.operations[lag.from.operation] == null) continue;
    if (problem.operations[to]!.fixed?.by === 'fact') continue;
    for (const remedy of lag.remedy) {
      if (problem.operations[remedy]!.fixed !== undefined) continue;
      const known = nodes.demandedAt[remedy]!;
      if (known >= 0 && schedule.operations[known]!.start <= planned.start) continue;
      nodes.demandedAt[remedy] = to;
      nodes.presence[remedy] = ON_DEMAND;
      if (schedule.operations[remedy] != null) continue;
      nodes.mode[remedy] = sameWay(problem, schedule, remedy, [to, lag.from.operation]);
      nodes.start[remedy] = planned.start;
      nodes.end[remedy] = planned.start;
    }
  }
}
