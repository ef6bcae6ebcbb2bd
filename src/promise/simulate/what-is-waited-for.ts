import type { CompiledPlan } from './compile-plan.ts';
import { leavingNode } from './plan-nodes.ts';

/** Where the plan leaves another car so much room, its delay is not felt: more than a working day. */
const FELT_WITHIN_MINUTES = 600;

/**
 * What some jobs wait for: their own work, and of other cars what comes so shortly before it that its delay would be felt,
 * back to the beginning. One entry a node.
 */
export function whatIsWaitedFor(
  { nodes, arcFirst, arcFrom, arcEdges, arcLag }: Waiting,
  jobs: readonly number[],
): Uint8Array {
  const { problem, start, end } = nodes;
  const jobOf = (node: number): number => {
    const operations = problem.operations.length;
    if (node < operations) return problem.operations[node]!.job;
    const stay = node - operations;
    return stay < problem.stays.length ? problem.stays[stay]!.job : stay - problem.stays.length;
  };
  const wanted = new Uint8Array(nodes.count);
  const open: number[] = [];
  const want = (node: number) => {
    if (wanted[node] === 1) return;
    wanted[node] = 1;
    open.push(node);
  };
  for (let node = 0; node < problem.operations.length; node++) {
    if (jobs.includes(problem.operations[node]!.job)) want(node);
  }
  for (const job of jobs) want(leavingNode(problem, job));
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    for (let a = arcFirst[node]!; a < arcFirst[node + 1]!; a++) {
      const before = arcFrom[a]!;
      if (wanted[before] === 1 || nodes.settled[before] === 1) continue;
      const after = (arcEdges[a]! & 2) === 2 ? end[node]! : start[node]!;
      const room = after - ((arcEdges[a]! & 1) === 1 ? end[before]! : start[before]!) - arcLag[a]!;
      if (room <= FELT_WITHIN_MINUTES || jobOf(before) === jobOf(node)) want(before);
    }
  }
  return wanted;
}

type Waiting = Pick<CompiledPlan, 'nodes' | 'arcFirst' | 'arcFrom' | 'arcEdges' | 'arcLag'>;
