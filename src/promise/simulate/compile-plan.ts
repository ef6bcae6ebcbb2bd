import { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import type { Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { addAirOrder } from './air-order.ts';
import { PlanOrder, WAIT } from './arcs.ts';
import { type ArcsIntoNodes, arcsIntoNodes } from './arcs-into-nodes.ts';
import { earliestStarts } from './earliest-starts.ts';
import { addLookFirst } from './look-first.ts';
import type { NodeRules } from './node-rules.ts';
import { addOwnOrder } from './own-order.ts';
import { addPlaceOrder } from './place-order.ts';
import { ABSENT, modeOf, type PlanNodes, readNodes } from './plan-nodes.ts';
import { addResourceOrder } from './resource-order.ts';
import { rulesOfNodes } from './rules-of-nodes.ts';
import type { ExecutionRules } from './simulation-input.ts';
import { topologicalOrder } from './topological-order.ts';
import { whatIsWaitedFor } from './what-is-waited-for.ts';
import { windowBlocks } from './window-blocks.ts';

/** A plan and its execution rules, compiled once and replayed many times. */
export interface CompiledPlan extends ArcsIntoNodes {
  readonly nodes: PlanNodes;
  /** Nodes that are carried out, in an order in which everything waited for comes first. */
  readonly order: Int32Array;
  /** By node; null when all are. */
  readonly carriedOut: Uint8Array | null;
  /** By node, where it stands in the order; -1 when it is not carried out. */
  readonly position: Int32Array;
  readonly base: Int32Array;
  readonly work: Float64Array;
  readonly rules: readonly NodeRules[];
  readonly keepsPieces: Uint8Array;
  readonly counters: number;
}

/** @param of jobs: only what these wait for is carried out; absent: all. */
export function compilePlan(
  problem: Problem,
  schedule: Schedule,
  rules: ExecutionRules,
  of?: readonly number[],
): CompiledPlan {
  const nodes = readNodes(problem, schedule);
  const order = new PlanOrder(nodes.count);
  const present = presentNodes(nodes);
  addOwnOrder(nodes, order);
  const rank = ranksOf(nodes, present, order);
  const blocks = windowBlocks(nodes, order, rank);
  addPlaceOrder(nodes, order);
  addAirOrder(nodes, order);
  addResourceOrder(nodes, rank, order);
  addOrderOfDemand(nodes, rank, order);
  addLookFirst(blocks, nodes.start, order);
  const inOrder = topologicalOrder(present, order, nodes.start, rank);
  const inAll = positions(inOrder, nodes.count);
  const wanted = of === undefined ? null : whatIsWaitedFor({ nodes, inOrder, position: inAll, order }, of);
  const carriedOut = wanted === null ? inOrder : only(wanted, inOrder);
  const { budgets, counters } = windowsOfBudgets(problem);
  return {
    nodes,
    order: Int32Array.from(carriedOut),
    carriedOut: wanted,
    position: wanted === null ? inAll : positions(carriedOut, nodes.count),
    ...arcsIntoNodes(order, inAll),
    base: earliestStarts(nodes, rules),
    work: plannedWork(nodes),
    rules: rulesOfNodes({ nodes, order, blocks, budgets, carriedOut }),
    keepsPieces: piecesKept(nodes, order),
    counters,
  };
}

function presentNodes({ count, presence }: PlanNodes): number[] {
  const present: number[] = [];
  for (let node = 0; node < count; node++) if (presence[node] !== ABSENT) present.push(node);
  return present;
}

/** The order in which nodes with equal planned starts are taken: that of each car's own plan. */
function ranksOf(nodes: PlanNodes, present: readonly number[], own: PlanOrder): Int32Array {
  const asNumbered = new Int32Array(nodes.count);
  for (let node = 0; node < nodes.count; node++) asNumbered[node] = node;
  const rank = asNumbered.slice();
  const inOrder = topologicalOrder(present, own, nodes.start, asNumbered);
  for (let k = 0; k < inOrder.length; k++) rank[inOrder[k]!] = k;
  return rank;
}

/** What follows a remedy that may be demanded is looked at after it is known whether it was. */
function addOrderOfDemand({ problem, demandedAt }: PlanNodes, rank: Int32Array, order: PlanOrder): void {
  const known = order.count;
  for (let a = 0; a < known; a++) {
    const from = order.from[a]!;
    const to = order.to[a]!;
    const due = from < problem.operations.length ? demandedAt[from]! : -1;
    if (due < 0 || to === due || rank[to]! <= rank[due]!) continue;
    if (demandedAt[to] !== due) order.after(due, to, WAIT.order);
  }
}

/** Where each node stands in a list; -1 where it does not. */
function positions(list: readonly number[], nodes: number): Int32Array {
  const position = new Int32Array(nodes).fill(-1);
  for (let k = 0; k < list.length; k++) position[list[k]!] = k;
  return position;
}

function only(wanted: Uint8Array, nodes: readonly number[]): number[] {
  const some: number[] = [];
  for (const node of nodes) if (wanted[node] === 1) some.push(node);
  return some;
}

function windowsOfBudgets({ budgets }: Problem): { readonly budgets: BudgetWindows[]; readonly counters: number } {
  const windows: BudgetWindows[] = [];
  let counters = 0;
  for (const budget of budgets) {
    windows.push(new BudgetWindows(budget, counters));
    counters += budget.windows.length;
  }
  return { budgets: windows, counters };
}

function plannedWork(nodes: PlanNodes): Float64Array {
  const work = new Float64Array(nodes.count);
  for (let o = 0; o < nodes.mode.length; o++) if (nodes.mode[o]! >= 0) work[o] = modeOf(nodes, o).work;
  return work;
}

/** By node: whether others keep clear of its worked pieces, or it draws on a budget. */
function piecesKept(nodes: PlanNodes, order: PlanOrder): Uint8Array {
  const keeps = new Uint8Array(nodes.count);
  for (const { of } of order.clearOf) keeps[of] = 1;
  for (let o = 0; o < nodes.mode.length; o++) {
    if (nodes.mode[o]! >= 0 && modeOf(nodes, o).budget !== undefined) keeps[o] = 1;
  }
  return keeps;
}
