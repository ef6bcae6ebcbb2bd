import type { Edge, Operation, Problem } from './problem.ts';
import type { Faults } from './problem-error.ts';

interface Arc {
  readonly to: number;
  readonly minutes: number;
}

const node = (operation: number, edge: Edge) => 2 * operation + (edge === 'start' ? 0 : 1);

/**
 * Ensures that the lags of always-present work do not contradict one another: in the graph of edges, with an arc of
 * length min from `from` to `to`, one of length -max back (when nothing can make good its lapse), and the least duration of
 * every operation, no cycle is longer than 0. Longest paths by label correcting with a queue (Moore 1959; Bellman 1958):
 * O(edges x lags) at worst, near linear on recipes.
 */
export function validateLagCycles(problem: Problem, faults: Faults): void {
  const arcs: Arc[][] = Array.from({ length: 2 * problem.operations.length }, () => []);
  for (const [o, operation] of problem.operations.entries()) {
    if (operation.presence !== 'always' || operation.fixed?.by === 'fact') continue;
    const [least, most] = durationBounds(problem, operation);
    arcs[node(o, 'start')]!.push({ to: node(o, 'end'), minutes: least });
    if (most !== undefined) arcs[node(o, 'end')]!.push({ to: node(o, 'start'), minutes: -most });
  }
  for (const { from, to, min, max, remedy } of problem.lags) {
    const ends = [problem.operations[from.operation]!, problem.operations[to.operation]!];
    if (ends.some((end) => end.presence !== 'always') || ends.every((end) => end.fixed?.by === 'fact')) continue;
    const tail = node(from.operation, from.edge);
    const head = node(to.operation, to.edge);
    arcs[tail]!.push({ to: head, minutes: min });
    if (max !== undefined && remedy === undefined) arcs[head]!.push({ to: tail, minutes: -max });
  }
  const cycle = positiveCycle(arcs);
  if (cycle === undefined) return;
  const operations = [...new Set(cycle.map((edge) => edge >> 1))].sort((a, b) => a - b);
  const names = operations.map((o) => `operations[${o}] "${problem.operations[o]!.name}"`).join(', ');
  faults.add('lags', `contradict one another around ${names}`);
}

/** Least minutes from start to end over the modes, and most, when every mode runs at one unit a minute without a pause. */
function durationBounds(problem: Problem, { modes, pausable }: Operation): [number, number | undefined] {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const { work, progress } of modes) {
    const fastest = progress === undefined ? 1 : Math.max(1, ...problem.progresses[progress]!.rate);
    least = Math.min(least, Math.ceil(work / fastest));
    const steady = progress === undefined || (!pausable && fastest === 1);
    most = steady ? Math.max(most, work) : Number.POSITIVE_INFINITY;
  }
  return [
    least,
    modes.every((mode) => mode.budget === undefined) && most < Number.POSITIVE_INFINITY ? most : undefined,
  ];
}

/** The nodes of some cycle of positive length, or undefined. */
function positiveCycle(arcs: readonly (readonly Arc[])[]): number[] | undefined {
  const count = arcs.length;
  const longest = new Array<number>(count).fill(0);
  const hops = new Array<number>(count).fill(0);
  const reachedFrom = new Array<number>(count).fill(-1);
  const queued = new Array<boolean>(count).fill(true);
  let queue = Array.from({ length: count }, (_, k) => k);
  while (queue.length > 0) {
    const next: number[] = [];
    for (const tail of queue) {
      queued[tail] = false;
      for (const { to, minutes } of arcs[tail]!) {
        if (longest[tail]! + minutes <= longest[to]!) continue;
        longest[to] = longest[tail]! + minutes;
        hops[to] = hops[tail]! + 1;
        reachedFrom[to] = tail;
        if (hops[to]! > count) {
          const cycle = cycleThrough(reachedFrom, to);
          if (cycle !== undefined) return cycle;
          hops[to] = 0;
        }
        if (!queued[to]) {
          queued[to] = true;
          next.push(to);
        }
      }
    }
    queue = next;
  }
  return undefined;
}

/** The cycle that the chain of predecessors runs into, or undefined when it comes to an end. */
function cycleThrough(reachedFrom: readonly number[], start: number): number[] | undefined {
  let edge = start;
  for (let k = 0; k < reachedFrom.length; k++) {
    edge = reachedFrom[edge]!;
    if (edge === -1) return undefined;
  }
  const cycle = [edge];
  for (let k = reachedFrom[edge]!; k !== edge; k = reachedFrom[k]!) cycle.push(k);
  return cycle;
}
