import { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import { NEVER } from '../../engine/calendar/never.ts';
import type { Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { addAirOrder } from './air-order.ts';
import { type Arc, PlanOrder, WAITS_FOR } from './arcs.ts';
import { openingsOfWork } from './closed-hours.ts';
import { calendarOf, intervalSetOf, staysInside } from './known-calendars.ts';
import { NodeRules } from './node-rules.ts';
import { addOwnOrder } from './own-order.ts';
import { addPlaceOrder } from './place-order.ts';
import { ABSENT, leavingNode, modeOf, ON_DEMAND, type PlanNodes, readNodes, stayNode } from './plan-nodes.ts';
import { addResourceOrder } from './resource-order.ts';
import type { ExecutionRules } from './simulation-input.ts';
import { topologicalOrder } from './topological-order.ts';
import { whatIsWaitedFor } from './what-is-waited-for.ts';
import { lookFirst, type WindowBlock, windowBlocks } from './window-blocks.ts';

/** A plan and its execution rules, compiled once and replayed many times. */
export interface CompiledPlan {
  readonly nodes: PlanNodes;
  /** Nodes that are carried out, in an order in which everything waited for comes first. */
  readonly order: Int32Array;
  /** By node; null when all are. */
  readonly carriedOut: Uint8Array | null;
  /** By node, where it stands in the order; -1 when it is not carried out. */
  readonly position: Int32Array;
  /** Arcs into node n are arcFirst[n] up to arcFirst[n + 1]. */
  readonly arcFirst: Int32Array;
  readonly arcFrom: Int32Array;
  /** Bit 0: from the end; bit 1: to the end. */
  readonly arcEdges: Uint8Array;
  readonly arcLag: Int32Array;
  readonly arcWaitsFor: Uint8Array;
  readonly arcAbout: Int32Array;
  readonly base: Int32Array;
  readonly work: Float64Array;
  readonly rules: readonly NodeRules[];
  readonly keepsPieces: Uint8Array;
  readonly counters: number;
  /** Arcs that would have made a circle and were left out. */
  readonly leftOut: number;
}

/** @param of jobs: only what these wait for is carried out; absent: all. */
export function compilePlan(
  problem: Problem,
  schedule: Schedule,
  rules: ExecutionRules,
  of?: readonly number[],
): CompiledPlan {
  const nodes = readNodes(problem, schedule);
  const present = Array.from({ length: nodes.count }, (_, n) => n).filter((n) => nodes.presence[n] !== ABSENT);
  const order = new PlanOrder();
  addOwnOrder(nodes, order);
  const rank = Int32Array.from({ length: nodes.count }, (_, n) => n);
  for (const [k, n] of topologicalOrder(present, order.arcs, nodes.start, rank.slice()).entries()) rank[n] = k;
  const blocks = windowBlocks(nodes, order.arcs, order.windows, rank);
  addPlaceOrder(nodes, order);
  addAirOrder(nodes, order);
  addResourceOrder(nodes, rank, order);
  for (const { from, to } of order.arcs.slice()) {
    const due = from < problem.operations.length ? nodes.demandedAt[from]! : -1;
    if (due >= 0 && to !== due && nodes.demandedAt[to] !== due && rank[to]! > rank[due]!) order.after(due, to, 'order');
  }
  for (const [from, to] of lookFirst(blocks, order.arcs, nodes.count)) order.after(from, to, 'order');
  const inOrder = topologicalOrder(present, order.arcs, nodes.start, rank);
  const inAll = positions(inOrder, nodes.count);
  const forward = order.arcs.filter(({ from, to }) => inAll[from]! < inAll[to]!);
  const wanted =
    of === undefined ? null : whatIsWaitedFor({ nodes, inOrder, arcs: forward, windows: order.windows }, of);
  const carriedOut = wanted === null ? inOrder : inOrder.filter((node) => wanted[node] === 1);
  const position = wanted === null ? inAll : positions(carriedOut, nodes.count);
  const arcs = forward
    .filter(({ waitsFor }) => waitsFor !== 'order')
    .sort((a, b) => a.to - b.to || Number(isQueue(a)) - Number(isQueue(b)));
  const arcFirst = new Int32Array(nodes.count + 1);
  for (const { to } of arcs) arcFirst[to + 1] = arcFirst[to + 1]! + 1;
  for (let n = 0; n < nodes.count; n++) arcFirst[n + 1] = arcFirst[n + 1]! + arcFirst[n]!;
  let counters = 0;
  const budgets = problem.budgets.map((budget) => {
    const windows = new BudgetWindows(budget, counters);
    counters += budget.windows.length;
    return windows;
  });
  const keepsPieces = new Uint8Array(nodes.count);
  for (const { of } of order.clearOf) keepsPieces[of] = 1;
  for (const o of problem.operations.keys()) {
    if (nodes.mode[o]! >= 0 && modeOf(nodes, o).budget !== undefined) keepsPieces[o] = 1;
  }
  return {
    nodes,
    order: Int32Array.from(carriedOut),
    carriedOut: wanted,
    position,
    arcFirst,
    arcFrom: Int32Array.from(arcs, ({ from }) => from),
    arcEdges: Uint8Array.from(arcs, ({ fromEnd, toEnd }) => (fromEnd ? 1 : 0) + (toEnd ? 2 : 0)),
    arcLag: Int32Array.from(arcs, ({ lag }) => lag),
    arcWaitsFor: Uint8Array.from(arcs, ({ waitsFor }) => WAITS_FOR.indexOf(waitsFor)),
    arcAbout: Int32Array.from(arcs, ({ about }) => about),
    base: baseOf(nodes, rules),
    work: Float64Array.from({ length: nodes.count }, (_, n) =>
      n < problem.operations.length && nodes.mode[n]! >= 0 ? modeOf(nodes, n).work : 0,
    ),
    rules: nodeRules(nodes, order, blocks, budgets, position),
    keepsPieces,
    counters,
    leftOut: order.arcs.length - forward.length,
  };
}

/** Where each node stands in a list; -1 where it does not. */
function positions(list: readonly number[], nodes: number): Int32Array {
  const position = new Int32Array(nodes).fill(-1);
  for (const [k, node] of list.entries()) position[node] = k;
  return position;
}

/** Whether an arc keeps the order of work on a person or a machine. Such arcs come last among those of a node. */
export function isQueue({ waitsFor, fromEnd, toEnd }: Pick<Arc, 'waitsFor' | 'fromEnd' | 'toEnd'>): boolean {
  return (waitsFor === 'person' || waitsFor === 'equipment') && fromEnd && !toEnd;
}

/** The earliest minute at which each node may start, whatever it waits for. */
function baseOf(nodes: PlanNodes, rules: ExecutionRules): Int32Array {
  const { problem, schedule, presence } = nodes;
  const base = new Int32Array(nodes.count);
  for (const [o, operation] of problem.operations.entries()) {
    if (presence[o] === ABSENT) continue;
    const job = problem.jobs[operation.job]!;
    base[o] = Math.max(problem.now, operation.release ?? 0, job.stays.length === 0 ? job.release : 0);
    const told = o === job.arrival || (o === job.handover && rules.pickups === 'notBeforePlanned');
    const kept = told || operation.fixed?.by === 'frozen' || rules.starts === 'notBeforePlanned';
    const planned = schedule.operations[o];
    if (kept && planned != null) base[o] = Math.max(base[o]!, planned.start);
  }
  for (const [j, job] of problem.jobs.entries()) {
    const first = nodes.stops[j]![0];
    if (first !== undefined) base[stayNode(problem, first)] = schedule.stays[first]!.from;
    const last = nodes.stops[j]!.at(-1);
    if (job.handover !== undefined || last === undefined || rules.pickups !== 'notBeforePlanned') continue;
    base[leavingNode(problem, j)] = schedule.stays[last]!.to;
  }
  for (const { place, to } of problem.takenPlaces) {
    for (const [s, stay] of problem.stays.entries()) {
      const planned = schedule.stays[s];
      if (planned?.place !== place || planned.from < to) continue;
      const { arrival } = problem.jobs[stay.job]!;
      const first = nodes.stops[stay.job]![0] === s;
      const taking = first ? (arrival ?? stayNode(problem, s)) : (stay.move ?? stayNode(problem, s));
      base[taking] = Math.max(base[taking]!, first ? to + problem.places[place]!.turnaround : to);
    }
  }
  return base;
}

function nodeRules(
  nodes: PlanNodes,
  order: PlanOrder,
  blocks: readonly WindowBlock[],
  budgets: readonly BudgetWindows[],
  position: Int32Array,
): NodeRules[] {
  const { problem } = nodes;
  const blockOf = new Map(blocks.map((block) => [block.head, block]));
  const into = grouped(order.windows, ({ to }) => to);
  const clear = grouped(order.clearOf, ({ node }) => node);
  const remedies = grouped(
    [...problem.operations.keys()].filter((o) => nodes.demandedAt[o]! >= 0),
    (o) => nodes.demandedAt[o]!,
  );
  const pools = grouped(
    order.pools.flatMap(({ units, members }) => members.map((node, index) => ({ node, units, members, index }))),
    ({ node }) => node,
  );
  const openings = openingsOf(nodes);
  return Array.from({ length: nodes.count }, (_, n): NodeRules => {
    const operation = problem.operations[n];
    const mode = operation !== undefined && nodes.mode[n]! >= 0 ? modeOf(nodes, n) : undefined;
    const calendar = mode?.progress === undefined ? null : calendarOf(problem.progresses[mode.progress]!);
    const used = (mode?.uses ?? [])
      .filter(({ amount }) => amount > 0)
      .map(({ resource }) => problem.resources[resource]!);
    const people = used.filter(({ kind, open }) => kind === 'person' && open !== undefined);
    const opening = openings.get(n);
    return new NodeRules(
      {
        calendar,
        pausable: operation?.pausable ?? true,
        opening: opening === undefined ? null : intervalSetOf(opening),
        allowed: mode?.allowed === undefined ? null : intervalSetOf(mode.allowed),
        budget: mode?.budget === undefined ? null : budgets[mode.budget]!,
        hours: [
          ...used.flatMap(({ open }) =>
            open === undefined || staysInside(calendar, intervalSetOf(open), problem.horizon)
              ? []
              : [intervalSetOf(open)],
          ),
          ...(operation === undefined ? [] : openingsOfWork(nodes, n).map(intervalSetOf)),
        ],
        leastFirstPiece: operation?.leastFirstPiece ?? 0,
        longestPause: operation?.longestPause ?? NEVER,
        clearOf: (clear.get(n) ?? []).map(({ of }) => of),
        pools: pools.get(n) ?? [],
        overtime: used.flatMap(({ overtime }) => (overtime === undefined ? [] : [intervalSetOf(overtime)])),
        open: people.length === 0 ? null : intervalSetOf(people[0]!.open!),
        windowsInto: into.get(n) ?? [],
        remedies: (remedies.get(n) ?? []).sort((a, b) => position[a]! - position[b]!),
        block: blockOf.get(n) ?? null,
      },
      NEVER,
    );
  });
}

/** Hours in which a car may be dropped off or picked up, by the node that is the drop-off or pickup. */
function openingsOf(nodes: PlanNodes): Map<number, readonly { from: number; to: number }[]> {
  const { problem, presence } = nodes;
  const openings = new Map<number, readonly { from: number; to: number }[]>();
  for (const [j, job] of problem.jobs.entries()) {
    const present = (o: number | undefined) => o !== undefined && presence[o] !== ABSENT && presence[o] !== ON_DEMAND;
    const first = nodes.stops[j]![0];
    const dropOff = present(job.arrival) ? job.arrival! : first === undefined ? undefined : stayNode(problem, first);
    if (job.dropOffOpen !== undefined && dropOff !== undefined) openings.set(dropOff, job.dropOffOpen);
    const pickup = present(job.handover) ? job.handover! : leavingNode(problem, j);
    if (job.pickupOpen !== undefined) openings.set(pickup, job.pickupOpen);
  }
  return openings;
}

function grouped<T>(items: readonly T[], keyOf: (item: T) => number): Map<number, T[]> {
  const groups = new Map<number, T[]>();
  for (const item of items) {
    const known = groups.get(keyOf(item));
    if (known === undefined) groups.set(keyOf(item), [item]);
    else known.push(item);
  }
  return groups;
}
