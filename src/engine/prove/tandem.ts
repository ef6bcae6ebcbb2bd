import type { Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Instant, Logic } from './logic.ts';
import { endOf, type ModelledOperation, startOf } from './modelled-operation.ts';
import { SettledHolds } from './places.ts';
import { type Itinerary, type ModelledStay, takes } from './stays.ts';

/** A car on its way in to or out of a place, from an instant until the latest of some others. */
interface WayThrough {
  readonly job: number;
  readonly place: number;
  readonly conditions: readonly number[];
  readonly from: Instant;
  readonly until: readonly Instant[];
  readonly settled: boolean;
}

/**
 * Ensures that no other car stands in the way while a car moves in to or out of a place that others block, is dropped
 * off there or is picked up there: the other car has left before, or takes its place after.
 */
export function addTandem(
  problem: Problem,
  operations: readonly ModelledOperation[],
  itineraries: readonly Itinerary[],
  logic: Logic,
): void {
  if (problem.places.every(({ blockedBy }) => blockedBy.length === 0)) return;
  const settled = new SettledHolds(itineraries, logic);
  for (const way of itineraries.flatMap((itinerary) => waysOf(problem, operations, itinerary, logic))) {
    for (const blocker of problem.places[way.place]!.blockedBy) {
      for (const [job, { stays }] of itineraries.entries()) {
        if (job !== way.job) for (const stay of stays) keepClear(logic, way, stay, blocker, settled);
      }
      keepClearOfTaken(problem, logic, way, blocker);
    }
  }
}

function keepClear(logic: Logic, way: WayThrough, stay: ModelledStay, blocker: number, settled: SettledHolds): void {
  const there = takes(logic, stay, blocker);
  if (logic.isFalse(there)) return;
  const judged = way.settled ? settled.began(stay, blocker) ^ 1 : logic.yes;
  const condition = logic.all([...way.conditions, there, judged]);
  if (logic.isFalse(condition)) return;
  logic.oneOf(
    [condition],
    [
      way.until.map((instant) => ({ from: instant, to: stay.heldFrom, gap: 0 })),
      [{ from: stay.to, to: way.from, gap: 0 }],
    ],
  );
}

function keepClearOfTaken({ takenPlaces, now }: Problem, logic: Logic, way: WayThrough, blocker: number): void {
  for (const { place, from, to } of takenPlaces) {
    if (place !== blocker || (way.settled && from <= now)) continue;
    for (const until of way.until) logic.notIn(way.from, until, from + 1, to, way.conditions);
  }
}

function waysOf(
  problem: Problem,
  operations: readonly ModelledOperation[],
  { stays, passages }: Itinerary,
  logic: Logic,
): WayThrough[] {
  const ways: WayThrough[] = [];
  const later = ({ half, offset }: Instant): Instant => ({ half, offset: offset + 1 });
  const blocked = (place: number) => problem.places[place]!.blockedBy.length > 0;
  for (const { job, first, last, from, to, places, arrivalIsFact } of stays) {
    const { handover } = problem.jobs[job]!;
    const leftAsFact = handover !== undefined && isFact(problem, handover);
    for (const { place, chosen } of places) {
      if (!blocked(place)) continue;
      ways.push({ job, place, conditions: [first, chosen], from, until: [later(from)], settled: arrivalIsFact });
      ways.push({ job, place, conditions: [last, chosen], from: to, until: [later(to)], settled: leftAsFact });
    }
  }
  for (const { before, after, adjacent } of passages) {
    if (after.move === undefined) continue;
    const move = operations[after.move]!;
    const from = startOf(move);
    const moving = {
      job: after.job,
      from,
      until: [endOf(move), later(from)],
      settled: isFact(problem, after.move),
    };
    for (const { places } of [before, after]) {
      for (const { place, chosen } of places) {
        if (blocked(place)) ways.push({ ...moving, place, conditions: [adjacent, after.moved, chosen] });
      }
    }
  }
  return ways.filter(({ conditions }) => !logic.isFalse(logic.all(conditions)));
}
