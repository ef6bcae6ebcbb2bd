import type { WorkSpan } from '../constraints/work-span.ts';
import type { Problem } from '../problem/problem.ts';

/** More operations than this, and only chains of non-negative lags are followed. */
const MOST_FOR_DISTANCES = 160;
const NO_PATH = -1_000_000_000;

/** What the time lags alone say of pairs of operations. */
export interface Precedence {
  /** Whether the lags force `before` to end by the start of `after`. */
  ordered(before: number, after: number): boolean;
  /** Whether the lags contradict one another. */
  readonly contradictory: boolean;
}

/**
 * All-pairs longest paths over starts and ends (Floyd and Warshall), or reachability when the problem is large. The least
 * duration of each operation counts as a lag from its start to its end, and a steady one backwards too.
 */
export function readPrecedence(problem: Problem, spans: readonly (readonly WorkSpan[])[]): Precedence {
  const n = problem.operations.length;
  const arcs: { from: number; to: number; gap: number }[] = [];
  for (let o = 0; o < n; o++) {
    const minutes = spans[o]!.map((span) => span.minutes);
    const steady = minutes.every((m) => m !== undefined);
    arcs.push({ from: 2 * o, to: 2 * o + 1, gap: steady ? Math.min(...(minutes as number[])) : 0 });
    if (steady) arcs.push({ from: 2 * o + 1, to: 2 * o, gap: -Math.max(...(minutes as number[])) });
  }
  for (const { from, to, min, max } of problem.lags) {
    const u = 2 * from.operation + (from.edge === 'end' ? 1 : 0);
    const v = 2 * to.operation + (to.edge === 'end' ? 1 : 0);
    arcs.push({ from: u, to: v, gap: min });
    if (max !== undefined) arcs.push({ from: v, to: u, gap: -max });
  }
  return n <= MOST_FOR_DISTANCES ? distances(n, arcs) : chains(n, arcs);
}

interface Arc {
  readonly from: number;
  readonly to: number;
  readonly gap: number;
}

function distances(n: number, arcs: readonly Arc[]): Precedence {
  const m = 2 * n;
  const distance = new Int32Array(m * m).fill(NO_PATH);
  for (let u = 0; u < m; u++) distance[u * m + u] = 0;
  for (const { from, to, gap } of arcs) {
    if (gap > distance[from * m + to]!) distance[from * m + to] = gap;
  }
  for (let k = 0; k < m; k++) {
    for (let u = 0; u < m; u++) {
      const first = distance[u * m + k]!;
      if (first === NO_PATH) continue;
      for (let v = 0; v < m; v++) {
        const second = distance[k * m + v]!;
        if (second !== NO_PATH && first + second > distance[u * m + v]!) distance[u * m + v] = first + second;
      }
    }
    for (let u = 0; u < m; u++) if (distance[u * m + u]! > 0) return { contradictory: true, ordered: () => false };
  }
  return {
    contradictory: false,
    ordered: (before, after) => distance[(2 * before + 1) * m + 2 * after]! >= 0,
  };
}

function chains(n: number, arcs: readonly Arc[]): Precedence {
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
      for (const v of out[u]!) {
        if (seen[v] === o) continue;
        seen[v] = o;
        stack.push(v);
      }
    }
  }
  return { contradictory: false, ordered: (before, after) => before !== after && reached[before * n + after] === 1 };
}
