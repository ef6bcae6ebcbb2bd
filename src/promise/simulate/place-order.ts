import type { Place } from '../../engine/problem/problem.ts';
import { edgesOf, type PlanOrder, START_TO_START, WAIT } from './arcs.ts';
import { leavingNode, type PlanNodes, stayNode } from './plan-nodes.ts';

/** One car's time in one place: from which node's start it holds it, when it has arrived, when it has left. */
interface PlannedHold {
  readonly job: number;
  readonly place: number;
  readonly taking: number;
  readonly arrived: number;
  readonly left: number;
  readonly heldFrom: number;
  readonly to: number;
  readonly firstStay: boolean;
}

/** A passage through the way in to a place, in or out. */
interface Passage {
  readonly job: number;
  readonly place: number;
  readonly node: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Keeps the plan's sequence of cars in each place, with the turnaround between them, and of passages past places that
 * stand in the way. Cars that have left before anything is still to come are left out.
 */
export function addPlaceOrder(nodes: PlanNodes, order: PlanOrder): void {
  const { places, jobs } = nodes.problem;
  const holds: PlannedHold[] = [];
  for (let job = 0; job < jobs.length; job++) addHolds(nodes, job, holds);
  const byPlace: PlannedHold[][] = [];
  for (let place = 0; place < places.length; place++) byPlace.push([]);
  for (const hold of holds) byPlace[hold.place]!.push(hold);
  for (let place = 0; place < places.length; place++) {
    addSequence(place, [...byPlace[place]!].sort(inTime), places[place]!.turnaround, order);
  }
  addTandemOrder(nodes, holds, byPlace, order);
}

const inTime = (a: PlannedHold, b: PlannedHold): number => a.heldFrom - b.heldFrom || a.to - b.to;

function addSequence(place: number, holds: readonly PlannedHold[], turnaround: number, order: PlanOrder): void {
  for (let k = 1; k < holds.length; k++) {
    const before = holds[k - 1]!;
    const after = holds[k]!;
    if (before.job === after.job) continue;
    order.after(before.left, after.taking, WAIT.place, place);
    if (turnaround > 0) {
      order.add(before.left, after.taking, edgesOf(true, !after.firstStay), turnaround, WAIT.place, place);
    }
  }
}

function addHolds(nodes: PlanNodes, job: number, holds: PlannedHold[]): void {
  const { problem, schedule, start } = nodes;
  const { arrival } = problem.jobs[job]!;
  const stops = nodes.stops[job]!;
  for (let k = 0; k < stops.length; ) {
    const stay = stops[k]!;
    const { place, from } = schedule.stays[stay]!;
    let next = k + 1;
    while (next < stops.length && schedule.stays[stops[next]!]!.place === place) next++;
    const { move } = problem.stays[stay]!;
    const moved = k > 0 && move !== undefined && schedule.operations[move] != null;
    const arrived = stayNode(problem, stay);
    const intake = k === 0 && arrival !== undefined && schedule.operations[arrival] != null ? arrival : arrived;
    const left = next < stops.length ? stayNode(problem, stops[next]!) : leavingNode(problem, job);
    const taking = moved ? move : intake;
    const heldFrom = moved ? start[move]! : from;
    holds.push({ job, place, taking, arrived, left, heldFrom, to: start[left]!, firstStay: !moved });
    k = next;
  }
}

function addTandemOrder(
  nodes: PlanNodes,
  holds: readonly PlannedHold[],
  byPlace: readonly (readonly PlannedHold[])[],
  order: PlanOrder,
): void {
  const { places } = nodes.problem;
  if (!places.some(isBlocked)) return;
  for (const passage of passagesOf(nodes, holds)) {
    for (const blocker of places[passage.place]!.blockedBy) {
      for (const hold of byPlace[blocker]!) if (hold.job !== passage.job) addPassage(nodes, passage, hold, order);
    }
  }
}

const isBlocked = ({ blockedBy }: Place): boolean => blockedBy.length > 0;

function passagesOf({ start, end }: PlanNodes, holds: readonly PlannedHold[]): Passage[] {
  const passages: Passage[] = [];
  for (let k = 0; k < holds.length; k++) {
    const hold = holds[k]!;
    const { job, place, taking, left } = hold;
    const to = hold.firstStay ? hold.heldFrom + 1 : end[taking]!;
    passages.push({ job, place, node: taking, from: start[taking]!, to });
    const next = holds[k + 1];
    if (next?.job === job) passages.push({ job, place, node: next.taking, from: next.heldFrom, to: end[next.taking]! });
    else passages.push({ job, place, node: left, from: hold.to, to: hold.to + 1 });
  }
  return passages;
}

function addPassage({ problem }: PlanNodes, passage: Passage, hold: PlannedHold, order: PlanOrder): void {
  const { node } = passage;
  if (hold.to <= passage.from) order.after(hold.left, node, WAIT.tandem, hold.place);
  else if (hold.heldFrom >= passage.to) {
    // A drop-off or pickup is an instant, of which the whole minute must be clear.
    const instant = node >= problem.operations.length || passage.to === passage.from + 1;
    if (instant) order.add(node, hold.taking, START_TO_START, 1, WAIT.tandem, hold.place);
    else order.after(node, hold.taking, WAIT.tandem, hold.place);
  }
}
