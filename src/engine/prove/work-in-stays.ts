import type { Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Logic } from './logic.ts';
import { endOf, type ModelledOperation, presentOf, startOf } from './modelled-operation.ts';
import { type Itinerary, type ModelledStay, takes } from './stays.ts';

/**
 * Ensures that work lies in its stay: it starts after the car has arrived, ends before the car is moved away or leaves, and
 * is done in a place where its mode can be done. What is a fact on both sides is not judged.
 */
export function addWorkInStays(
  problem: Problem,
  operations: readonly ModelledOperation[],
  itineraries: readonly Itinerary[],
  logic: Logic,
): void {
  const byStay = new Map(itineraries.flatMap(({ stays }) => stays.map((stay) => [stay.stay, stay] as const)));
  for (const [o, { stay, job }] of problem.operations.entries()) {
    if (stay === undefined) continue;
    addArrival(problem, operations[o]!, logic, o, byStay.get(stay)!);
    addDeparture(problem, operations[o]!, logic, o, byStay.get(stay)!, itineraries[job]!);
  }
}

/** Work starts after the car has arrived, in a place where its mode can be done. */
function addArrival(problem: Problem, operation: ModelledOperation, logic: Logic, o: number, stay: ModelledStay): void {
  const present = presentOf(logic, operation);
  const fact = isFact(problem, o);
  logic.implies([present], stay.present);
  if (!(fact && stay.arrivalIsFact)) logic.lag(stay.from, startOf(operation), 0, [present]);
  if (fact && problem.stays[stay.stay]!.fixed !== undefined) return;
  for (const [m, { places }] of problem.operations[o]!.modes.entries()) {
    if (places === undefined) continue;
    const { presence } = operation.modes[m]!;
    const chosen = presence < 0 ? logic.yes : presence;
    logic.implies([chosen], ...places.map((place) => takes(logic, stay, place)));
  }
}

/** Work has ended when the car leaves; what both are facts is not judged. */
function addDeparture(
  problem: Problem,
  operation: ModelledOperation,
  logic: Logic,
  o: number,
  stay: ModelledStay,
  { passages }: Itinerary,
): void {
  const end = endOf(operation);
  if (!isFact(problem, o)) {
    logic.lag(end, stay.departure, 0, [presentOf(logic, operation)]);
    return;
  }
  const { handover } = problem.jobs[stay.job]!;
  if (handover === undefined || !isFact(problem, handover)) logic.lag(end, stay.departure, 0, [stay.last]);
  for (const { before, after, adjacent } of passages) {
    if (before === stay && !after.arrivalIsFact) logic.lag(end, stay.departure, 0, [adjacent]);
  }
}
