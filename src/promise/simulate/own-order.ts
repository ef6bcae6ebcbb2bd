import type { Lag, Problem } from '../../engine/problem/problem.ts';
import { END_TO_START, edgesOf, type PlanOrder, START_TO_START, WAIT } from './arcs.ts';
import { ABSENT, hasBegun, leavingNode, type PlanNodes, PRESENT, stayNode } from './plan-nodes.ts';

/** What a car's own plan asks for: its lags and windows, its way from place to place, and when it must stand still. */
export function addOwnOrder(nodes: PlanNodes, order: PlanOrder): void {
  const { lags, jobs, stills } = nodes.problem;
  for (let k = 0; k < lags.length; k++) addLag(nodes, k, lags[k]!, order);
  const work = workInStays(nodes, order);
  for (let j = 0; j < jobs.length; j++) addStays(nodes, j, work, order);
  for (let k = 0; k < stills.length; k++) addStill(nodes, k, order);
}

function addLag(nodes: PlanNodes, k: number, lag: Lag, order: PlanOrder): void {
  const { presence, start } = nodes;
  const from = lag.from.operation;
  const to = lag.to.operation;
  if (presence[from] === ABSENT || presence[to] === ABSENT) return;
  if (hasBegun(nodes, from) && hasBegun(nodes, to)) return;
  const fromEnd = lag.from.edge === 'end';
  const toEnd = lag.to.edge === 'end';
  // A lag between work whose planned order is the other way round reads the other way round, too.
  if (start[from]! > start[to]! && lag.min < 0) {
    const edges = edgesOf(toEnd, fromEnd);
    order.limit(to, from, edges, -lag.min, NONE);
    if (lag.max !== undefined) order.add(to, from, edges, -lag.max, WAIT.lag, k);
  } else {
    const edges = edgesOf(fromEnd, toEnd);
    order.add(from, to, edges, lag.min, WAIT.lag, k);
    if (lag.max !== undefined) order.limit(from, to, edges, lag.max, lag.remedy ?? NONE);
  }
}

const NONE: readonly number[] = [];

/** The work of one stay that waits for the car's arrival, and the work that its leaving waits for. */
interface StayWork {
  readonly first: number[];
  readonly last: number[];
}

/** By stay. Work that follows other work of the stay needs no arc of its own from the arrival, nor the other way round. */
function workInStays({ problem, presence }: PlanNodes, order: PlanOrder): readonly StayWork[] {
  const { operations } = problem;
  const follows = new Uint8Array(operations.length);
  const leads = new Uint8Array(operations.length);
  for (let a = 0; a < order.count; a++) {
    if (order.edges[a] !== END_TO_START || order.lag[a]! < 0) continue;
    const from = order.from[a]!;
    const to = order.to[a]!;
    if (operations[from]!.stay !== operations[to]!.stay) continue;
    if (presence[from] === PRESENT) follows[to] = 1;
    if (presence[to] === PRESENT) leads[from] = 1;
  }
  const stays: StayWork[] = [];
  for (let s = 0; s < problem.stays.length; s++) stays.push({ first: [], last: [] });
  for (let o = 0; o < operations.length; o++) {
    const { stay } = operations[o]!;
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
  for (let k = 0; k < stops.length; k++) {
    const stay = stops[k]!;
    const here = stayNode(problem, stay);
    const { move } = problem.stays[stay]!;
    // The car has arrived when its intake starts; the intake itself waits for no arrival.
    const intake = k === 0 && arrival !== undefined && presence[arrival] !== ABSENT ? arrival : -1;
    for (const o of work[stay]!.first) if (o !== intake) order.after(here, o, WAIT.stay, stay);
    if (intake >= 0) order.add(intake, here, START_TO_START, 0, WAIT.stay, stay);
    if (k > 0) {
      const before = stops[k - 1]!;
      const there = stayNode(problem, before);
      const passage = move !== undefined && schedule.operations[move] != null ? move : here;
      order.after(there, passage, WAIT.stay, stay);
      for (const o of work[before]!.last) order.after(o, passage, WAIT.stay, stay);
      if (passage !== here) order.after(passage, here, WAIT.stay, stay);
    }
    if (k < stops.length - 1) continue;
    order.after(here, leaving, WAIT.stay, stay);
    for (const o of work[stay]!.last) order.after(o, leaving, WAIT.stay, stay);
  }
  if (handover !== undefined && presence[handover] !== ABSENT) order.after(handover, leaving, WAIT.stay);
  if (stops.length === 0) addWorkWithoutStays(nodes, job, order);
}

function addWorkWithoutStays({ problem, presence }: PlanNodes, job: number, order: PlanOrder): void {
  const leaving = leavingNode(problem, job);
  for (let o = 0; o < problem.operations.length; o++) {
    if (problem.operations[o]!.job === job && presence[o] !== ABSENT) order.after(o, leaving, WAIT.stay);
  }
}

function addStill({ problem, schedule, stops }: PlanNodes, k: number, order: PlanOrder): void {
  const { job, from, to } = problem.stills[k]!;
  const begins = schedule.operations[from.operation];
  const ends = schedule.operations[to.operation];
  if (begins == null || ends == null) return;
  const until = to.edge === 'end' ? ends.end : ends.start;
  for (const stay of stops[job]!) {
    const { move } = problem.stays[stay]!;
    const planned = move === undefined ? undefined : schedule.operations[move];
    if (move === undefined || planned == null) continue;
    if (planned.start >= until) addAfterStill(problem, k, move, false, order);
    else order.add(move, from.operation, edgesOf(true, from.edge === 'end'), 0, WAIT.standstill, k);
  }
  const leaving = leavingNode(problem, job);
  const { handover } = problem.jobs[job]!;
  if (handover === undefined || schedule.operations[handover] == null) addAfterStill(problem, k, leaving, false, order);
  else if (handover !== to.operation) addAfterStill(problem, k, handover, true, order);
}

/** A node's start or end waits until the car need not stand still any more. */
function addAfterStill({ stills }: Problem, k: number, node: number, nodeEnd: boolean, order: PlanOrder): void {
  const { operation, edge } = stills[k]!.to;
  order.add(operation, node, edgesOf(edge === 'end', nodeEnd), 0, WAIT.standstill, k);
}
