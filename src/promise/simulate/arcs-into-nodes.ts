import { END_TO_START, type PlanOrder, WAIT } from './arcs.ts';

/** Arcs of a plan's order, node by node, in flat arrays. */
export interface ArcsIntoNodes {
  /** Arcs into node n are arcFirst[n] up to arcFirst[n + 1]; those that keep the order of work on a person or a machine come last. */
  readonly arcFirst: Int32Array;
  readonly arcFrom: Int32Array;
  /** Bits `FROM_END` and `TO_END`. */
  readonly arcEdges: Uint8Array;
  readonly arcLag: Int32Array;
  /** One of `WAIT`. */
  readonly arcWaitsFor: Uint8Array;
  readonly arcAbout: Int32Array;
}

/** Arcs that lead forward in the order that nodes are carried out in, but for those of order alone. */
export function arcsIntoNodes(order: PlanOrder, position: Int32Array): ArcsIntoNodes {
  const nodes = position.length;
  const most = order.count;
  const arcs = {
    arcFirst: new Int32Array(nodes + 1),
    arcFrom: new Int32Array(most),
    arcEdges: new Uint8Array(most),
    arcLag: new Int32Array(most),
    arcWaitsFor: new Uint8Array(most),
    arcAbout: new Int32Array(most),
  };
  const { first, next } = order.into;
  let at = 0;
  for (let node = 0; node < nodes; node++) {
    arcs.arcFirst[node] = at;
    for (const queues of [false, true]) {
      for (let a = first[node]!; a >= 0; a = next[a]!) {
        const from = order.from[a]!;
        if (position[from]! >= position[node]! || order.waitsFor[a] === WAIT.order) continue;
        if (isQueue(order, a) !== queues) continue;
        arcs.arcFrom[at] = from;
        arcs.arcEdges[at] = order.edges[a]!;
        arcs.arcLag[at] = order.lag[a]!;
        arcs.arcWaitsFor[at] = order.waitsFor[a]!;
        arcs.arcAbout[at] = order.about[a]!;
        at++;
      }
    }
  }
  arcs.arcFirst[nodes] = at;
  return arcs;
}

/** Whether an arc keeps the order of work on a person or a machine. */
function isQueue({ waitsFor, edges }: PlanOrder, a: number): boolean {
  return (waitsFor[a] === WAIT.person || waitsFor[a] === WAIT.equipment) && edges[a] === END_TO_START;
}
