import { ABSENT, leavingNode, type PlanNodes, stayNode } from './plan-nodes.ts';
import type { ExecutionRules } from './simulation-input.ts';

/** The earliest minute at which each node may start, whatever it waits for. */
export function earliestStarts(nodes: PlanNodes, rules: ExecutionRules): Int32Array {
  const { problem, schedule } = nodes;
  const { operations, jobs } = problem;
  const base = new Int32Array(nodes.count);
  for (let o = 0; o < operations.length; o++) if (nodes.presence[o] !== ABSENT) base[o] = ofOperation(nodes, rules, o);
  for (let j = 0; j < jobs.length; j++) {
    const first = nodes.stops[j]![0];
    if (first !== undefined) base[stayNode(problem, first)] = schedule.stays[first]!.from;
    const last = nodes.stops[j]!.at(-1);
    if (jobs[j]!.handover !== undefined || last === undefined || rules.pickups !== 'notBeforePlanned') continue;
    base[leavingNode(problem, j)] = schedule.stays[last]!.to;
  }
  for (const { place, to } of problem.takenPlaces) waitUntilFree(nodes, place, to, base);
  return base;
}

function ofOperation({ problem, schedule }: PlanNodes, rules: ExecutionRules, o: number): number {
  const operation = problem.operations[o]!;
  const job = problem.jobs[operation.job]!;
  const base = Math.max(problem.now, operation.release ?? 0, job.stays.length === 0 ? job.release : 0);
  const told = o === job.arrival || (o === job.handover && rules.pickups === 'notBeforePlanned');
  const kept = told || operation.fixed?.by === 'frozen' || rules.starts === 'notBeforePlanned';
  const planned = schedule.operations[o];
  return kept && planned != null ? Math.max(base, planned.start) : base;
}

/** Cars that are planned into a place after something outside the plan has left it. */
function waitUntilFree({ problem, schedule, stops }: PlanNodes, place: number, free: number, base: Int32Array): void {
  for (let s = 0; s < problem.stays.length; s++) {
    const planned = schedule.stays[s];
    if (planned?.place !== place || planned.from < free) continue;
    const { job, move } = problem.stays[s]!;
    const { arrival } = problem.jobs[job]!;
    const first = stops[job]![0] === s;
    const taking = first ? (arrival ?? stayNode(problem, s)) : (move ?? stayNode(problem, s));
    base[taking] = Math.max(base[taking]!, first ? free + problem.places[place]!.turnaround : free);
  }
}
