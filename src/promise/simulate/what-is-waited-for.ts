import type { Arc, Window } from './arcs.ts';
import { leavingNode, modeOf, type PlanNodes } from './plan-nodes.ts';

/** What the replay looks at, and the order it looks in. */
interface Waiting {
  readonly nodes: PlanNodes;
  /** In the order they are carried out in; every arc goes forward in it. */
  readonly inOrder: readonly number[];
  readonly arcs: readonly Arc[];
  readonly windows: readonly Window[];
}

/**
 * What some jobs wait for, however long before: carried out by itself it gives these jobs the times that carrying out
 * everything gives them. That is their own work, and back to the beginning whatever has a say in what is waited for: what an
 * arc leads from; the other end of a window, which can send work back to a later start; the remedies it may demand; what draws on
 * its budget before it. What only comes after is left out. How much room the plan leaves is not asked: a delay of one night
 * goes through many hours of it. One entry a node; what is settled is never waited for.
 */
export function whatIsWaitedFor(waiting: Waiting, jobs: readonly number[]): Uint8Array {
  const { problem, settled, count } = waiting.nodes;
  const needs = needsOf(waiting);
  const wanted = new Uint8Array(count);
  const open: number[] = [];
  const want = (node: number) => {
    if (wanted[node] === 1 || settled[node] === 1) return;
    wanted[node] = 1;
    open.push(node);
  };
  const asked = new Set(jobs);
  for (const [o, { job }] of problem.operations.entries()) if (asked.has(job)) want(o);
  for (const job of jobs) want(leavingNode(problem, job));
  for (let node = open.pop(); node !== undefined; node = open.pop()) needs.ofEach(node, want);
  return wanted;
}

function needsOf({ nodes, inOrder, arcs, windows }: Waiting): Needs {
  const { problem, presence, demandedAt } = nodes;
  const needs = new Needs(nodes.count);
  for (const { from, to } of arcs) needs.add(to, from);
  for (const { from, to } of windows) {
    needs.add(to, from);
    needs.add(from, to);
  }
  for (const [remedy, at] of demandedAt.entries()) if (at >= 0) needs.add(at, remedy);
  const lastToDraw = new Int32Array(problem.budgets.length).fill(-1);
  for (const node of inOrder) {
    if (node >= problem.operations.length || presence[node] === 0 || nodes.mode[node]! < 0) continue;
    const { budget } = modeOf(nodes, node);
    if (budget === undefined) continue;
    if (lastToDraw[budget]! >= 0) needs.add(node, lastToDraw[budget]!);
    lastToDraw[budget] = node;
  }
  return needs;
}

/** Pairs of a node and one that it needs, as lists that share two arrays. */
class Needs {
  readonly #last: Int32Array;
  readonly #needed: number[] = [];
  readonly #before: number[] = [];

  constructor(nodes: number) {
    this.#last = new Int32Array(nodes).fill(-1);
  }

  add(node: number, needed: number): void {
    this.#before.push(this.#last[node]!);
    this.#last[node] = this.#needed.push(needed) - 1;
  }

  ofEach(node: number, visit: (needed: number) => void): void {
    for (let k = this.#last[node]!; k >= 0; k = this.#before[k]!) visit(this.#needed[k]!);
  }
}
