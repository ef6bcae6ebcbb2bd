import type { Edge, Interval, Problem } from '../problem/problem.ts';
import type { PlannedOperation, PlannedStay, Schedule } from '../problem/solution.ts';
import { workedPieces } from './worked-pieces.ts';

/** One present stay, seen among the others of its job. */
export interface Stop extends PlannedStay {
  readonly stay: number;
  readonly job: number;
  /** The move, present in the plan, that brings the car here. */
  readonly move?: number;
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

export function isFact(problem: Problem, operation: number): boolean {
  return problem.operations[operation]!.fixed?.by === 'fact';
}

export function edgeTime(planned: PlannedOperation, edge: Edge): number {
  return edge === 'start' ? planned.start : planned.end;
}

export function readPlan(problem: Problem, schedule: Schedule): PlanRead {
  const pieces = problem.operations.map((operation, o) => {
    const planned = schedule.operations[o];
    return planned == null ? [] : workedPieces(problem, operation.modes[planned.mode]!, planned.start, planned.end);
  });
  const itineraries = problem.jobs.map((_, job) => readItinerary(problem, schedule, job));
  const stops: (Stop | undefined)[] = problem.stays.map(() => undefined);
  for (const itinerary of itineraries) for (const stop of itinerary) stops[stop.stay] = stop;
  return { problem, schedule, pieces, itineraries, stops };
}

function readItinerary(problem: Problem, schedule: Schedule, job: number): Stop[] {
  const { stays, arrival, handover } = problem.jobs[job]!;
  const present = stays.filter((stay) => schedule.stays[stay] != null);
  const moveInto = present.map((stay) => {
    const move = problem.stays[stay]!.move;
    return move !== undefined && schedule.operations[move] != null ? move : undefined;
  });
  const arrivalIsFact = present.map((stay, k) => {
    if (problem.stays[stay]!.fixed?.from !== undefined) return true;
    const setBy = k === 0 ? arrival : moveInto[k];
    return setBy !== undefined && isFact(problem, setBy);
  });
  return present.map((stay, k) => {
    const planned = schedule.stays[stay]!;
    const move = moveInto[k];
    const last = k === present.length - 1;
    const moveAway = last ? undefined : moveInto[k + 1];
    return {
      ...planned,
      stay,
      job,
      ...(move === undefined ? {} : { move }),
      heldFrom: move === undefined ? planned.from : Math.min(planned.from, schedule.operations[move]!.start),
      departure: moveAway === undefined ? planned.to : schedule.operations[moveAway]!.start,
      arrivalIsFact: arrivalIsFact[k]!,
      departureIsFact: last ? handover !== undefined && isFact(problem, handover) : arrivalIsFact[k + 1]!,
      first: k === 0,
      last,
    };
  });
}
