import type { Problem, Stay } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Instant, Logic } from './logic.ts';
import { endOf, type ModelledOperation, presentOf, startOf } from './modelled-operation.ts';

/** A stay as variables; Booleans are halves, constants included. */
export interface ModelledStay {
  readonly stay: number;
  readonly job: number;
  readonly present: number;
  /** Whether it is the first, or the last, of the job's stays that are there. */
  readonly first: number;
  readonly last: number;
  readonly from: Instant;
  readonly to: Instant;
  /** From when the place must be free of others: no later than `from`, nor than the start of a move in. */
  readonly heldFrom: Instant;
  /** By when work here has ended: no later than `to`, nor than the start of a move away. */
  readonly departure: Instant;
  readonly places: readonly { readonly place: number; readonly chosen: number }[];
  /** The move in, and whether it is planned or happened. */
  readonly move: number | undefined;
  readonly moved: number;
  readonly arrivalIsFact: boolean;
}

/** Two stays of a car with none between them. */
export interface Passage {
  readonly before: ModelledStay;
  readonly after: ModelledStay;
  readonly adjacent: number;
}

export interface Itinerary {
  readonly stays: readonly ModelledStay[];
  readonly passages: readonly Passage[];
}

/** The Boolean that says the stay is there and takes this place; the constant false when it cannot. */
export function takes(logic: Logic, { places }: ModelledStay, place: number): number {
  return places.find((each) => each.place === place)?.chosen ?? logic.no;
}

/**
 * Ensures that a car is always in exactly one place: its stays follow one another without a gap, and change place by a
 * move and only so. What a stay asks of its place, and its work of the stay, is said in `places.ts` and `work-in-stays.ts`.
 */
export function addItineraries(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
): readonly Itinerary[] {
  return problem.jobs.map((_, job) => addItinerary(problem, operations, logic, job));
}

function addItinerary(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
  job: number,
): Itinerary {
  const indices = problem.jobs[job]!.stays;
  const present = indices.map((s) => {
    const { optional, fixed } = problem.stays[s]!;
    return optional && fixed === undefined ? logic.newBoolean() : logic.yes;
  });
  const absentBetween = (from: number, to: number) => present.slice(from, to).map((half) => half ^ 1);
  const stays = indices.map((s, k) =>
    addStay(problem, operations, logic, s, {
      present: present[k]!,
      first: logic.all([present[k]!, ...absentBetween(0, k)]),
      last: logic.all([present[k]!, ...absentBetween(k + 1, indices.length)]),
    }),
  );
  const passages: Passage[] = [];
  for (let i = 0; i < stays.length; i++) {
    for (let j = i + 1; j < stays.length; j++) {
      const adjacent = logic.all([present[i]!, present[j]!, ...absentBetween(i + 1, j)]);
      if (!logic.isFalse(adjacent)) passages.push({ before: stays[i]!, after: stays[j]!, adjacent });
    }
  }
  for (const passage of passages) addPassage(problem, operations, logic, passage);
  return { stays, passages };
}

function addStay(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
  s: number,
  { present, first, last }: Pick<ModelledStay, 'present' | 'first' | 'last'>,
): ModelledStay {
  const stay = problem.stays[s]!;
  const { horizon, now } = problem;
  const moveIsFact = stay.move !== undefined && isFact(problem, stay.move);
  const isFirst = problem.jobs[stay.job]!.stays[0] === s;
  const { arrival } = problem.jobs[stay.job]!;
  const arrivalIsFact =
    stay.fixed?.from !== undefined || (isFirst ? arrival !== undefined && isFact(problem, arrival) : moveIsFact);
  const latest = latestMinute(problem);
  const from =
    stay.fixed?.from !== undefined
      ? logic.minute(stay.fixed.from)
      : logic.newInstant(arrivalIsFact ? 0 : now, arrivalIsFact ? latest : horizon);
  const to = logic.newInstant(0, latest);
  const heldFrom = logic.newInstant(0, latest);
  const departure = logic.newInstant(0, latest);
  logic.lag(from, to, 0, [present]);
  logic.lag(heldFrom, from, 0, [present]);
  logic.lag(departure, to, 0, [present]);
  const moved = moveOf(operations, logic, stay);
  if (stay.move !== undefined) {
    const start = startOf(operations[stay.move]!);
    logic.lag(heldFrom, start, 0, [present, moved]);
    // An absent stay, or the first one, has no move in but one that happened.
    if (!moveIsFact) {
      logic.implies([moved], present);
      logic.implies([moved, first]);
      if (stay.fixed?.from !== undefined) logic.implies([moved]);
    }
  }
  return {
    stay: s,
    job: stay.job,
    present,
    first,
    last,
    from,
    to,
    heldFrom,
    departure,
    places: addPlaces(logic, stay, present),
    move: stay.move,
    moved,
    arrivalIsFact,
  };
}

/** The last minute anything may name: facts may lie behind the horizon. */
export function latestMinute({ operations, stays, horizon }: Problem): number {
  let latest = horizon;
  for (const { fixed } of operations) if (fixed) latest = Math.max(latest, fixed.start, fixed.end ?? 0);
  for (const { fixed } of stays) if (fixed?.from !== undefined) latest = Math.max(latest, fixed.from);
  return latest;
}

function moveOf(operations: readonly ModelledOperation[], logic: Logic, { move }: Stay): number {
  return move === undefined ? logic.no : presentOf(logic, operations[move]!);
}

/** Exactly one place when the stay is there, none when it is absent. */
function addPlaces(logic: Logic, { places, fixed }: Stay, present: number): ModelledStay['places'] {
  const possible = fixed === undefined ? [...new Set(places)] : [fixed.place];
  if (possible.length === 1) return [{ place: possible[0]!, chosen: present }];
  const chosen = possible.map((place) => ({ place, chosen: logic.newBoolean() }));
  logic.implies([present], ...chosen.map((each) => each.chosen));
  for (const [k, one] of chosen.entries()) {
    logic.implies([one.chosen], present);
    for (const other of chosen.slice(k + 1)) logic.implies([one.chosen, other.chosen]);
  }
  return chosen;
}

function addPassage(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
  { before, after, adjacent }: Passage,
): void {
  const stay = problem.stays[after.stay]!;
  const arrived = stay.fixed?.from !== undefined;
  logic.same(before.to, after.from, [adjacent]);
  if (!after.arrivalIsFact) logic.lag(before.to, logic.minute(problem.horizon), 0, [adjacent]);
  const moveIsFact = stay.move !== undefined && isFact(problem, stay.move);
  if (!arrived && !moveIsFact) {
    for (const { place, chosen } of before.places) {
      const stays = takes(logic, after, place);
      logic.implies([adjacent, chosen, stays ^ 1], after.moved);
      logic.implies([adjacent, chosen, stays, after.moved]);
    }
  }
  if (stay.move === undefined) return;
  const start = startOf(operations[stay.move]!);
  logic.lag(before.departure, start, 0, [adjacent, after.moved]);
  if (arrived && moveIsFact) return;
  logic.same(endOf(operations[stay.move]!), after.from, [adjacent, after.moved]);
  if (!(moveIsFact && before.arrivalIsFact)) logic.lag(before.from, start, 0, [adjacent, after.moved]);
}
