import type { PlanOrder } from './arcs.ts';
import { ABSENT, leavingNode, type PlanNodes, PRESENT, stayNode } from './plan-nodes.ts';

/** What a car's own plan asks for: its lags and windows, its way from place to place, and when it must stand still. */
export function addOwnOrder(nodes: PlanNodes, order: PlanOrder): void {
  addLags(nodes, order);
  const work = workInStays(nodes, order);
  for (const j of nodes.problem.jobs.keys()) addStays(nodes, j, work, order);
  addStills(nodes, order);
}

function addLags({ problem, presence, start, settled, underWay }: PlanNodes, order: PlanOrder): void {
  for (const [k, lag] of problem.lags.entries()) {
    const from = lag.from.operation;
    const to = lag.to.operation;
    if (presence[from] === ABSENT || presence[to] === ABSENT) continue;
    const happened = (node: number) => settled[node] === 1 || underWay[node] === 1;
    if (happened(from) && happened(to)) continue;
    const fromEnd = lag.from.edge === 'end';
    const toEnd = lag.to.edge === 'end';
    const forward = { from, fromEnd, to, toEnd };
    const back = { from: to, fromEnd: toEnd, to: from, toEnd: fromEnd };
    const about = { waitsFor: 'lag', about: k } as const;
    // A lag between work whose planned order is the other way round reads the other way round, too.
    const turned = start[from]! > start[to]! && lag.min < 0;
    if (turned) order.limit(back, -lag.min, []);
    else order.add({ ...forward, lag: lag.min, ...about });
    if (lag.max === undefined) continue;
    if (turned) order.add({ ...back, lag: -lag.max, ...about });
    else order.limit(forward, lag.max, lag.remedy ?? []);
  }
}

/** The work of one stay that waits for the car's arrival, and the work that its leaving waits for. */
interface StayWork {
  readonly first: number[];
  readonly last: number[];
}

/** By stay. Work that follows other work of the stay needs no arc of its own from the arrival, nor the other way round. */
function workInStays({ problem, presence }: PlanNodes, order: PlanOrder): readonly StayWork[] {
  const follows = new Uint8Array(problem.operations.length);
  const leads = new Uint8Array(problem.operations.length);
  for (const { from, fromEnd, to, toEnd, lag } of order.arcs) {
    const sameStay = problem.operations[from]!.stay === problem.operations[to]!.stay;
    if (!sameStay || !fromEnd || toEnd || lag < 0) continue;
    if (presence[from] === PRESENT) follows[to] = 1;
    if (presence[to] === PRESENT) leads[from] = 1;
  }
  const stays = problem.stays.map((): StayWork => ({ first: [], last: [] }));
  for (const [o, { stay }] of problem.operations.entries()) {
    if (stay === undefined || presence[o] === ABSENT) continue;
    if (follows[o] === 0) stays[stay]!.first.push(o);
    if (leads[o] === 0) stays[stay]!.last.push(o);
  }
  return stays;
}

function addStays(nodes: PlanNodes, job: number, work: readonly StayWork[], order: PlanOrder): void {
  const { problem, presence, schedule } = nodes;
  const { arrival, handover } = problem.jobs[job]!;
  const leaving = leavingNode(problem, job);
  const stops = nodes.stops[job]!;
  for (const [k, stay] of stops.entries()) {
    const here = stayNode(problem, stay);
    const { move } = problem.stays[stay]!;
    // The car has arrived when its intake starts; the intake itself waits for no arrival.
    const intake = k === 0 && arrival !== undefined && presence[arrival] !== ABSENT ? arrival : -1;
    for (const o of work[stay]!.first) if (o !== intake) order.after(here, o, 'stay', stay);
    if (intake >= 0) {
      order.add({ from: intake, fromEnd: false, to: here, toEnd: false, lag: 0, waitsFor: 'stay', about: stay });
    }
    if (k > 0) {
      const before = stops[k - 1]!;
      const there = stayNode(problem, before);
      const passage = move !== undefined && schedule.operations[move] != null ? move : here;
      order.after(there, passage, 'stay', stay);
      for (const o of work[before]!.last) order.after(o, passage, 'stay', stay);
      if (passage !== here) order.after(passage, here, 'stay', stay);
    }
    if (k < stops.length - 1) continue;
    order.after(here, leaving, 'stay', stay);
    for (const o of work[stay]!.last) order.after(o, leaving, 'stay', stay);
  }
  if (handover !== undefined && presence[handover] !== ABSENT) order.after(handover, leaving, 'stay');
  if (stops.length > 0) return;
  for (const [o, operation] of problem.operations.entries()) {
    if (operation.job === job && presence[o] !== ABSENT) order.after(o, leaving, 'stay');
  }
}

function addStills({ problem, schedule, stops }: PlanNodes, order: PlanOrder): void {
  for (const [k, { job, from, to }] of problem.stills.entries()) {
    const begins = schedule.operations[from.operation];
    const ends = schedule.operations[to.operation];
    if (begins == null || ends == null) continue;
    const until = to.edge === 'end' ? ends.end : ends.start;
    const about = { waitsFor: 'standstill', about: k } as const;
    const wait = (node: number, nodeEnd: boolean) =>
      order.add({ from: to.operation, fromEnd: to.edge === 'end', to: node, toEnd: nodeEnd, lag: 0, ...about });
    for (const stay of stops[job]!) {
      const { move } = problem.stays[stay]!;
      const planned = move === undefined ? undefined : schedule.operations[move];
      if (move === undefined || planned == null) continue;
      if (planned.start >= until) wait(move, false);
      else order.add({ from: move, fromEnd: true, to: from.operation, toEnd: from.edge === 'end', lag: 0, ...about });
    }
    const leaving = leavingNode(problem, job);
    const { handover } = problem.jobs[job]!;
    if (handover === undefined || schedule.operations[handover] == null) wait(leaving, false);
    else if (handover !== to.operation) wait(handover, true);
  }
}
