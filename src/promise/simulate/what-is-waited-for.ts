import type { PlanOrder } from './arcs.ts';
import { Chains } from './chains.ts';
import { leavingNode, modeOf, type PlanNodes } from './plan-nodes.ts';

/** What the replay looks at, and the order it looks in. */
interface Waiting {
  readonly nodes: PlanNodes;
  /** In the order they are carried out in, and where each stands in it. */
  readonly inOrder: readonly number[];
  readonly position: Int32Array;
  /** Arcs that go backwards in that order are left out of it. */
  readonly order: PlanOrder;
}

/**
 * What some jobs wait for, however long before: carried out by itself it gives these jobs the times that carrying out
 * everything gives them. That is their own work, and back to the beginning whatever has a say in what is waited for: what an
 * arc leads from; the other end of a window, which can send work back to a later start; the remedies it may demand; what draws on
 * its budget before it. What only comes after is left out. How much room the plan leaves is not asked: a delay of one night
 * goes through many hours of it. One entry a node; what is settled is never waited for.
 */
export function whatIsWaitedFor(waiting: Waiting, jobs: readonly number[]): Uint8Array {
  const { problem } = waiting.nodes;
  const wanted = new Wanted(waiting);
  for (let o = 0; o < problem.operations.length; o++) if (jobs.includes(problem.operations[o]!.job)) wanted.want(o);
  for (const job of jobs) wanted.want(leavingNode(problem, job));
  wanted.wantWhatTheyNeed();
  return wanted.nodes;
}

class Wanted {
  /** One entry a node: whether it is wanted. */
  readonly nodes: Uint8Array;
  readonly #settled: Uint8Array;
  readonly #waiting: Waiting;
  readonly #open: number[] = [];
  /** What nodes need apart from their arcs, node by node. */
  readonly #needsOf: Chains;
  readonly #needed: number[] = [];

  constructor(waiting: Waiting) {
    const { count, settled } = waiting.nodes;
    this.nodes = new Uint8Array(count);
    this.#settled = settled;
    this.#waiting = waiting;
    this.#needsOf = new Chains(count);
    for (const { from, to } of waiting.order.windows) {
      this.#need(to, from);
      this.#need(from, to);
    }
    this.#needRemedies();
    this.#needBudgets();
  }

  want(node: number): void {
    if (this.nodes[node] === 1 || this.#settled[node] === 1) return;
    this.nodes[node] = 1;
    this.#open.push(node);
  }

  wantWhatTheyNeed(): void {
    const { order, position } = this.#waiting;
    const { first, next } = order.into;
    for (let node = this.#open.pop(); node !== undefined; node = this.#open.pop()) {
      for (let a = first[node]!; a >= 0; a = next[a]!) {
        const from = order.from[a]!;
        if (position[from]! < position[node]!) this.want(from);
      }
      for (let k = this.#needsOf.first[node]!; k >= 0; k = this.#needsOf.next[k]!) this.want(this.#needed[k]!);
    }
  }

  #need(node: number, needed: number): void {
    this.#needsOf.add(node);
    this.#needed.push(needed);
  }

  #needRemedies(): void {
    const { demandedAt } = this.#waiting.nodes;
    for (let remedy = 0; remedy < demandedAt.length; remedy++) {
      if (demandedAt[remedy]! >= 0) this.#need(demandedAt[remedy]!, remedy);
    }
  }

  #needBudgets(): void {
    const { nodes, inOrder } = this.#waiting;
    const { problem, presence, mode } = nodes;
    const lastToDraw = new Int32Array(problem.budgets.length).fill(-1);
    for (const node of inOrder) {
      if (node >= problem.operations.length || presence[node] === 0 || mode[node]! < 0) continue;
      const { budget } = modeOf(nodes, node);
      if (budget === undefined) continue;
      if (lastToDraw[budget]! >= 0) this.#need(node, lastToDraw[budget]!);
      lastToDraw[budget] = node;
    }
  }
}
