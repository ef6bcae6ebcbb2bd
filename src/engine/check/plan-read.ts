import type { Edge, Interval, Problem } from '../problem/problem.ts';
import type { PlannedOperation, PlannedStay, Schedule } from '../problem/solution.ts';
import { workedPieces } from './worked-pieces.ts';

/** One present stay, seen among the others of its job. */
export interface Stop extends PlannedStay {
  readonly stay: number;
  readonly job: number;
  /** The move, present in the plan, that brings the car here. */
  readonly move: number | undefined;
  /** From when the car holds the place: the start of its move in, else its arrival. */
  readonly heldFrom: number;
  /** By when work here must have ended: the start of the move away, else `to`. */
  readonly departure: number;
  readonly arrivalIsFact: boolean;
  readonly departureIsFact: boolean;
  readonly first: boolean;
  readonly last: boolean;
}

/** A schedule read once, with what the rules ask for again and again. */
export interface PlanRead {
  readonly problem: Problem;
  readonly schedule: Schedule;
  /** Worked pieces by operation; none when absent. */
  readonly pieces: readonly (readonly Interval[])[];
  /** Present stays in order, by job. */
  readonly itineraries: readonly (readonly Stop[])[];
  /** By stay; undefined when absent. */
  readonly stops: readonly (Stop | undefined)[];
}

const NO_PIECES: readonly Interval[] = [];

export function isFact(problem: Problem, operation: number): boolean {
  return problem.operations[operation]!.fixed?.by === 'fact';
}

export function edgeTime(planned: PlannedOperation, edge: Edge): number {
  return edge === 'start' ? planned.start : planned.end;
}

export function readPlan(problem: Problem, schedule: Schedule): PlanRead {
  const pieces: (readonly Interval[])[] = [];
  for (let o = 0; o < problem.operations.length; o++) {
    const planned = schedule.operations[o];
    const mode = planned == null ? undefined : problem.operations[o]!.modes[planned.mode]!;
    pieces.push(mode === undefined ? NO_PIECES : workedPieces(problem, mode, planned!.start, planned!.end));
  }
  const itineraries: Stop[][] = [];
  const stops: (Stop | undefined)[] = new Array<Stop | undefined>(problem.stays.length).fill(undefined);
  for (let job = 0; job < problem.jobs.length; job++) {
    const itinerary = readItinerary(problem, schedule, job);
    for (const stop of itinerary) stops[stop.stay] = stop;
    itineraries.push(itinerary);
  }
  return { problem, schedule, pieces, itineraries, stops };
}

function readItinerary(problem: Problem, schedule: Schedule, job: number): Stop[] {
  const { stays, arrival, handover } = problem.jobs[job]!;
  const stops: Stop[] = [];
  for (let k = nextPresent(schedule, stays, 0); k < stays.length; ) {
    const next = nextPresent(schedule, stays, k + 1);
    const stay = stays[k]!;
    const { place, from, to } = schedule.stays[stay]!;
    const first = stops.length === 0;
    const last = next === stays.length;
    const move = moveInto(problem, schedule, stay);
    const moveAway = last ? undefined : moveInto(problem, schedule, stays[next]!);
    stops.push({
      place,
      from,
      to,
      stay,
      job,
      move,
      heldFrom: move === undefined ? from : Math.min(from, schedule.operations[move]!.start),
      departure: moveAway === undefined ? to : schedule.operations[moveAway]!.start,
      arrivalIsFact: isArrivalFact(problem, stay, first ? arrival : move),
      departureIsFact: last
        ? handover !== undefined && isFact(problem, handover)
        : isArrivalFact(problem, stays[next]!, moveAway),
      first,
      last,
    });
    k = next;
  }
  return stops;
}

/** Where among a job's stays the first one from `k` on stands that is there; their number when none is. */
function nextPresent(schedule: Schedule, stays: readonly number[], k: number): number {
  let next = k;
  while (next < stays.length && schedule.stays[stays[next]!] == null) next++;
  return next;
}

function moveInto(problem: Problem, schedule: Schedule, stay: number): number | undefined {
  const { move } = problem.stays[stay]!;
  return move !== undefined && schedule.operations[move] != null ? move : undefined;
}

/** Whether a stay's arrival is given, or set by an operation that is a fact. */
function isArrivalFact(problem: Problem, stay: number, setBy: number | undefined): boolean {
  if (problem.stays[stay]!.fixed?.from !== undefined) return true;
  return setBy !== undefined && isFact(problem, setBy);
}
