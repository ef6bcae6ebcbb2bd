import type { WorkSpan } from '../constraints/work-span.ts';
import type { Edge, Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';

/** More operations than this, and only chains of non-negative lags are followed. */
const MOST_FOR_DISTANCES = 160;
const NO_PATH = -1_000_000_000;

/** Start or end of an operation. */
export interface EdgeNode {
  readonly operation: number;
  readonly edge: Edge;
}

/** What the time lags alone say of pairs of operations, when both are there. */
export interface Precedence {
  /** Whether the lags force `before` to end by the start of `after`. */
  ordered(before: number, after: number): boolean;
  /** The most minutes that the lags are known to force between two edges; very negative when they force none. */
  gap(from: EdgeNode, to: EdgeNode): number;
  /** Whether the lags contradict one another. */
  readonly contradictory: boolean;
}

/**
 * All-pairs longest paths over starts and ends (Floyd and Warshall), or reachability when the problem is large. The least
 * duration of each operation counts as a lag from its start to its end, and a steady one backwards too. No path leads through
 * an operation that may be absent; work of one car in an earlier stay comes before work in a later one.
 */
export function readPrecedence(problem: Problem, spans: readonly (readonly WorkSpan[])[]): Precedence {
  const n = problem.operations.length;
  const arcs: Arc[] = [];
  for (let o = 0; o < n; o++) {
    const minutes = spans[o]!.map((span) => span.minutes);
    const steady = minutes.every((m) => m !== undefined);
    arcs.push({ from: 2 * o, to: 2 * o + 1, gap: steady ? Math.min(...(minutes as number[])) : 0 });
    if (steady) arcs.push({ from: 2 * o + 1, to: 2 * o, gap: -Math.max(...(minutes as number[])) });
  }
  for (const { from, to, min, max, remedy } of problem.lags) {
    if (isFact(problem, from.operation) && isFact(problem, to.operation)) continue;
    const u = 2 * from.operation + (from.edge === 'end' ? 1 : 0);
    const v = 2 * to.operation + (to.edge === 'end' ? 1 : 0);
    arcs.push({ from: u, to: v, gap: min });
    if (max !== undefined && remedy === undefined) arcs.push({ from: v, to: u, gap: -max });
  }
  addOrderOfStays(problem, arcs);
  const passable = problem.operations.map(({ presence, fixed }) => presence === 'always' || fixed !== undefined);
  return n <= MOST_FOR_DISTANCES ? distances(n, arcs, passable) : chains(n, arcs, passable);
}

function addOrderOfStays({ jobs, operations }: Problem, arcs: Arc[]): void {
  const rank = new Map(jobs.flatMap(({ stays }) => stays.map((stay, k) => [stay, k] as const)));
  for (const [a, one] of operations.entries()) {
    if (one.stay === undefined || one.fixed?.by === 'fact') continue;
    for (const [b, other] of operations.entries()) {
      if (other.stay === undefined || other.job !== one.job || other.fixed?.by === 'fact') continue;
      if (rank.get(one.stay)! < rank.get(other.stay)!) arcs.push({ from: 2 * a + 1, to: 2 * b, gap: 0 });
    }
  }
}

interface Arc {
  readonly from: number;
  readonly to: number;
  readonly gap: number;
}

function distances(n: number, arcs: readonly Arc[], passable: readonly boolean[]): Precedence {
  const m = 2 * n;
  const distance = new Int32Array(m * m).fill(NO_PATH);
  for (let u = 0; u < m; u++) distance[u * m + u] = 0;
  for (const { from, to, gap } of arcs) {
    if (gap > distance[from * m + to]!) distance[from * m + to] = gap;
  }
  const at = ({ operation, edge }: EdgeNode) => 2 * operation + (edge === 'end' ? 1 : 0);
  const gap = (from: EdgeNode, to: EdgeNode) => distance[at(from) * m + at(to)]!;
  for (let k = 0; k < m; k++) {
    if (!passable[k >> 1]) continue;
    for (let u = 0; u < m; u++) {
      const first = distance[u * m + k]!;
      if (first === NO_PATH) continue;
      for (let v = 0; v < m; v++) {
        const second = distance[k * m + v]!;
        if (second !== NO_PATH && first + second > distance[u * m + v]!) distance[u * m + v] = first + second;
      }
    }
    for (let u = 0; u < m; u++) {
      if (distance[u * m + u]! > 0 && passable[u >> 1]) return { contradictory: true, ordered: () => false, gap };
    }
  }
  return {
    contradictory: false,
    ordered: (before, after) => distance[(2 * before + 1) * m + 2 * after]! >= 0,
    gap,
  };
}

function chains(n: number, arcs: readonly Arc[], passable: readonly boolean[]): Precedence {
  const m = 2 * n;
  const out: number[][] = Array.from({ length: m }, () => []);
  for (const { from, to, gap } of arcs) if (gap >= 0) out[from]!.push(to);
  const reached = new Uint8Array(n * n);
  const seen = new Int32Array(m).fill(-1);
  for (let o = 0; o < n; o++) {
    const stack = [2 * o + 1];
    seen[2 * o + 1] = o;
    while (stack.length > 0) {
      const u = stack.pop()!;
      if ((u & 1) === 0) reached[o * n + (u >> 1)] = 1;
      if (!passable[u >> 1] && u >> 1 !== o) continue;
      for (const v of out[u]!) {
        if (seen[v] === o) continue;
        seen[v] = o;
        stack.push(v);
      }
    }
  }
  const ordered = (before: number, after: number) => before !== after && reached[before * n + after] === 1;
  const gap = (from: EdgeNode, to: EdgeNode) =>
    from.edge === 'end' && to.edge === 'start' && ordered(from.operation, to.operation) ? 0 : NO_PATH;
  return { contradictory: false, ordered, gap };
}
