import type { Problem } from '../problem/problem.ts';
import { endOfFact } from './facts.ts';
import { gapsBetween, type Logic } from './logic.ts';
import { type Itinerary, type ModelledStay, takes } from './stays.ts';

/**
 * Ensures that a place holds one car at a time, from the start of its move in until it has arrived elsewhere, that it
 * stands empty for the turnaround between two cars, and that cars stand in it only while it is open. Of every two stays
 * of different cars that can take one place, a Boolean says which is first. What is a fact on both sides is not judged.
 */
export function addPlaces(problem: Problem, itineraries: readonly Itinerary[], logic: Logic): PlaceOrders {
  const settled = new SettledHolds(itineraries, logic);
  const orders = new PlaceOrders(logic);
  for (const [a, one] of itineraries.entries()) {
    for (const other of itineraries.slice(a + 1)) {
      for (const x of one.stays) for (const y of other.stays) addPair(problem, logic, settled, orders, x, y);
      keepTogether(logic, orders, one, other);
      keepTogether(logic, orders, other, one);
    }
    for (const stay of one.stays) addTaken(problem, logic, settled, stay);
    for (const stay of one.stays) addOpen(problem, logic, stay);
  }
  return orders;
}

/** For two stays of different cars, the Boolean that says which holds its place first, should they share one. */
export class PlaceOrders {
  private readonly logic: Logic;
  private readonly first = new Map<string, number>();

  constructor(logic: Logic) {
    this.logic = logic;
  }

  before(x: ModelledStay, y: ModelledStay): number {
    const turned = x.stay > y.stay;
    const key = turned ? `${y.stay} ${x.stay}` : `${x.stay} ${y.stay}`;
    let half = this.first.get(key);
    if (half === undefined) {
      half = this.logic.newBoolean();
      this.first.set(key, half);
    }
    return turned ? half ^ 1 : half;
  }
}

/** Which holds of a place began as facts: those of cars that have arrived, for as long as they do not leave the place. */
export class SettledHolds {
  private readonly itineraries: readonly Itinerary[];
  private readonly logic: Logic;

  constructor(itineraries: readonly Itinerary[], logic: Logic) {
    this.itineraries = itineraries;
    this.logic = logic;
  }

  /** A Boolean that says so of the hold of a place that a stay is part of. */
  began(stay: ModelledStay, place: number): number {
    const { logic } = this;
    if (stay.arrivalIsFact) return logic.yes;
    const { passages } = this.itineraries[stay.job]!;
    const ways = passages
      .filter(({ after }) => after === stay)
      .map(({ before, adjacent }) => {
        const there = logic.all([adjacent, takes(logic, before, place), takes(logic, stay, place)]);
        return logic.isFalse(there) ? logic.no : logic.all([there, this.began(before, place)]);
      });
    return logic.any(ways);
  }
}

function addPair(
  problem: Problem,
  logic: Logic,
  settled: SettledHolds,
  orders: PlaceOrders,
  x: ModelledStay,
  y: ModelledStay,
): void {
  if (x.arrivalIsFact && y.arrivalIsFact) return;
  for (const { place, chosen } of x.places) {
    const other = takes(logic, y, place);
    if (logic.isFalse(other)) continue;
    const bothFacts = logic.all([settled.began(x, place), settled.began(y, place)]);
    const conditions = [chosen, other, bothFacts ^ 1];
    const { turnaround } = problem.places[place]!;
    for (const [before, after] of [
      [x, y],
      [y, x],
    ] as const) {
      const inOrder = [...conditions, orders.before(before, after)];
      logic.lag(before.to, after.heldFrom, 0, inOrder);
      logic.lag(before.to, after.from, turnaround, inOrder);
    }
  }
}

/** Between two stays of one car in the same place no other car comes. */
function keepTogether(logic: Logic, orders: PlaceOrders, one: Itinerary, other: Itinerary): void {
  for (const { before, after, adjacent } of one.passages) {
    for (const { place, chosen } of before.places) {
      const stays = takes(logic, after, place);
      if (logic.isFalse(stays) || (before.arrivalIsFact && after.arrivalIsFact)) continue;
      for (const y of other.stays) {
        const theirs = takes(logic, y, place);
        if (logic.isFalse(theirs)) continue;
        const together = [adjacent, chosen, stays, theirs];
        logic.implies([...together, orders.before(before, y)], orders.before(after, y));
        logic.implies([...together, orders.before(after, y)], orders.before(before, y));
      }
    }
  }
}

function addTaken(problem: Problem, logic: Logic, settled: SettledHolds, stay: ModelledStay): void {
  for (const { place, from, to } of problem.takenPlaces) {
    const chosen = takes(logic, stay, place);
    if (logic.isFalse(chosen)) continue;
    const judged = from <= problem.now ? settled.began(stay, place) ^ 1 : logic.yes;
    const conditions = [chosen, judged];
    if (logic.isFalse(judged)) continue;
    const { turnaround } = problem.places[place]!;
    logic.notIn(stay.heldFrom, stay.to, from - turnaround + 1, to, conditions);
    logic.notIn(stay.from, stay.to, from - turnaround + 1, to + turnaround, conditions);
  }
}

function addOpen(problem: Problem, logic: Logic, stay: ModelledStay): void {
  for (const { place, chosen } of stay.places) {
    const { open } = problem.places[place]!;
    if (open === undefined) continue;
    const gaps = gapsBetween(open);
    if (stay.arrivalIsFact) {
      if (problem.stays[stay.stay]!.fixed?.standsOn) continue;
      const since = Math.max(arrival(problem, stay), problem.now);
      const closes = gaps.find(({ to }) => to > since)!;
      if (closes.from > since) logic.lag(stay.to, logic.minute(closes.from), 0, [chosen]);
      continue;
    }
    for (const { from, to } of gaps) {
      logic.notIn(stay.from, stay.from, from, to, [chosen]);
      logic.notIn(stay.from, stay.to, from + 1, to, [chosen]);
    }
  }
}

function arrival(problem: Problem, { stay, move, job }: ModelledStay): number {
  const { fixed } = problem.stays[stay]!;
  return (
    fixed?.from ??
    (move === undefined ? problem.operations[problem.jobs[job]!.arrival!]!.fixed!.start : endOfFact(problem, move)!)
  );
}
