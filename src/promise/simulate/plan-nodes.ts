import type { Mode, Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';

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
    stops: problem.jobs.map(({ stays }) => stays.filter((stay) => schedule.stays[stay] != null)),
  };
  for (const [o, operation] of problem.operations.entries()) {
    const planned = schedule.operations[o];
    if (planned == null) continue;
    nodes.presence[o] = PRESENT;
    nodes.mode[o] = planned.mode;
    nodes.start[o] = planned.start;
    nodes.end[o] = planned.end;
    if (operation.fixed?.by !== 'fact') continue;
    if (planned.end > problem.now) nodes.underWay[o] = 1;
    else nodes.settled[o] = 1;
  }
  readRemedies(nodes);
  for (const [s, stay] of problem.stays.entries()) {
    const planned = schedule.stays[s];
    if (planned == null) continue;
    const node = stayNode(problem, s);
    nodes.presence[node] = PRESENT;
    nodes.start[node] = planned.from;
    nodes.end[node] = planned.from;
    if (stay.fixed?.from !== undefined) nodes.settled[node] = 1;
  }
  for (const [j, job] of problem.jobs.entries()) {
    const node = leavingNode(problem, j);
    const last = nodes.stops[j]!.at(-1);
    const ends = problem.operations.map((operation, o) => (operation.job === j ? nodes.end[o]! : 0));
    const handover = job.handover === undefined ? undefined : schedule.operations[job.handover];
    const leaves = handover?.end ?? (last === undefined ? Math.max(0, ...ends) : schedule.stays[last]!.to);
    nodes.presence[node] = PRESENT;
    nodes.start[node] = leaves;
    nodes.end[node] = leaves;
  }
  return nodes;
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
      nodes.mode[remedy] = sameWay(nodes, remedy, to, lag.from.operation);
      nodes.start[remedy] = planned.start;
      nodes.end[remedy] = planned.start;
    }
  }
}

/** The way to do a remedy that asks for nobody new: the people of the work it comes before, or of the work made good. */
function sameWay(
  { problem, schedule }: Pick<PlanNodes, 'problem' | 'schedule'>,
  remedy: number,
  before: number,
  after: number,
): number {
  const { modes, stay } = problem.operations[remedy]!;
  const place = stay === undefined ? undefined : schedule.stays[stay]?.place;
  const people = (mode: Mode) =>
    mode.uses
      .filter(({ resource }) => problem.resources[resource]!.kind === 'person')
      .map(({ resource }) => resource)
      .sort((a, b) => a - b)
      .join();
  const fits = (mode: Mode) => place === undefined || mode.places === undefined || mode.places.includes(place);
  for (const other of [before, after]) {
    const crew = people(problem.operations[other]!.modes[schedule.operations[other]!.mode]!);
    const same = modes.findIndex((mode) => fits(mode) && people(mode) === crew);
    if (same >= 0) return same;
  }
  return Math.max(0, modes.findIndex(fits));
}
