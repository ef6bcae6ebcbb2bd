import type { PlanOrder } from './arcs.ts';
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
  const { problem } = nodes;
  const holds = problem.jobs.flatMap((_, job) => holdsOf(nodes, job));
  for (const place of problem.places.keys()) {
    const here = holds.filter((hold) => hold.place === place).sort((a, b) => a.heldFrom - b.heldFrom || a.to - b.to);
    for (let k = 1; k < here.length; k++) {
      const before = here[k - 1]!;
      const after = here[k]!;
      if (before.job === after.job) continue;
      order.after(before.left, after.taking, 'place', place);
      const { turnaround } = problem.places[place]!;
      if (turnaround > 0) {
        order.add({
          from: before.left,
          fromEnd: true,
          to: after.taking,
          toEnd: !after.firstStay,
          lag: turnaround,
          waitsFor: 'place',
          about: place,
        });
      }
    }
  }
  addTandemOrder(nodes, holds, order);
}

function holdsOf(nodes: PlanNodes, job: number): PlannedHold[] {
  const { problem, schedule, start } = nodes;
  const { arrival } = problem.jobs[job]!;
  const stops = nodes.stops[job]!;
  const holds: PlannedHold[] = [];
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
  return holds;
}

function addTandemOrder(nodes: PlanNodes, holds: readonly PlannedHold[], order: PlanOrder): void {
  const { problem, start, end } = nodes;
  if (problem.places.every(({ blockedBy }) => blockedBy.length === 0)) return;
  const passages: Passage[] = [];
  for (const [k, hold] of holds.entries()) {
    const { job, place, taking, left } = hold;
    const to = hold.firstStay ? hold.heldFrom + 1 : end[taking]!;
    passages.push({ job, place, node: taking, from: start[taking]!, to });
    const next = holds[k + 1];
    if (next?.job === job) passages.push({ job, place, node: next.taking, from: next.heldFrom, to: end[next.taking]! });
    else passages.push({ job, place, node: left, from: hold.to, to: hold.to + 1 });
  }
  for (const passage of passages) {
    for (const blocker of problem.places[passage.place]!.blockedBy) {
      for (const hold of holds) {
        if (hold.place !== blocker || hold.job === passage.job) continue;
        const { node } = passage;
        if (hold.to <= passage.from) order.after(hold.left, node, 'tandem', blocker);
        else if (hold.heldFrom >= passage.to) {
          // A drop-off or pickup is an instant, of which the whole minute must be clear.
          const instant = node >= problem.operations.length || passage.to === passage.from + 1;
          const about = { to: hold.taking, toEnd: false, waitsFor: 'tandem', about: blocker } as const;
          order.add({ from: node, fromEnd: !instant, lag: instant ? 1 : 0, ...about });
        }
      }
    }
  }
}
