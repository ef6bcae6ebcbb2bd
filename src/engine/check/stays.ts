import type { Operation, Problem } from '../problem/problem.ts';
import { isFact, type PlanRead, type Stop } from './plan-read.ts';
import { carName, operationName, placeName, type Report } from './violation.ts';

/**
 * Ensures that a car is always in exactly one place: its stays are all there, follow one another without a gap, change
 * place by a planned move and only so, and hold the work done in them, in a place where that work can be done.
 * O(stays + operations).
 */
export function checkStays(plan: PlanRead, report: Report): void {
  checkStayPresence(plan, report);
  for (const itinerary of plan.itineraries) {
    for (let k = 0; k < itinerary.length; k++) {
      const stop = itinerary[k]!;
      checkPlace(plan, stop, report);
      if (k > 0) checkPassage(plan, itinerary[k - 1]!, stop, report);
      else checkNoMove(plan, stop, report);
    }
  }
  const { operations } = plan.problem;
  for (let o = 0; o < operations.length; o++) {
    const operation = operations[o]!;
    if (operation.stay !== undefined) checkWorkInStay(plan, o, operation, report);
  }
}

function checkStayPresence({ problem, schedule }: PlanRead, report: Report): void {
  for (let s = 0; s < problem.stays.length; s++) {
    if (schedule.stays[s] != null) continue;
    const stay = problem.stays[s]!;
    if (!stay.optional || stay.fixed !== undefined) {
      const text = `A stay of ${carName(problem, s)} is missing from the plan.`;
      report({ invariant: 2, rule: 'stay-missing', text, operations: [], stays: [s] });
    }
    if (stay.move !== undefined && schedule.operations[stay.move] != null && !isFact(problem, stay.move)) {
      const text = `${operationName(problem, stay.move)} is planned into a stay that is absent.`;
      report({ invariant: 2, rule: 'move-undemanded', text, operations: [stay.move], stays: [s] });
    }
  }
}

function checkPlace({ problem }: PlanRead, stop: Stop, report: Report): void {
  const stay = problem.stays[stop.stay]!;
  if (stay.fixed === undefined && !stay.places.includes(stop.place)) {
    const text = `${placeName(problem, stop.place)} is not a place that ${carName(problem, stop.stay)} can take for this stay.`;
    report({ invariant: 2, rule: 'place', text, operations: [], stays: [stop.stay] });
  }
  if (stop.to < stop.from) {
    const text = `A stay of ${carName(problem, stop.stay)} in ${placeName(problem, stop.place)} ends at minute ${stop.to}, before it starts at ${stop.from}.`;
    report({ invariant: 2, rule: 'stay-reversed', text, operations: [], stays: [stop.stay] });
  }
}

/** A first stay is reached by drop-off: a move into it is planned only when the stays before it are absent in error. */
function checkNoMove({ problem }: PlanRead, stop: Stop, report: Report): void {
  if (stop.move === undefined || isFact(problem, stop.move)) return;
  const text = `${operationName(problem, stop.move)} is planned though the car is dropped off at its first place.`;
  report({ invariant: 2, rule: 'move-undemanded', text, operations: [stop.move], stays: [stop.stay] });
}

function checkPassage(plan: PlanRead, before: Stop, stop: Stop, report: Report): void {
  const { problem } = plan;
  if (before.to !== stop.from) {
    const text = `${carName(problem, stop.stay)} leaves ${placeName(problem, before.place)} at minute ${before.to} and is in ${placeName(problem, stop.place)} from ${stop.from}: it is not in exactly one place between.`;
    report({ invariant: 2, rule: 'stay-gap', text, operations: [], stays: [before.stay, stop.stay] });
  }
  const arrived = problem.stays[stop.stay]!.fixed?.from !== undefined;
  if (stop.move !== undefined) {
    checkMove(plan, before, stop, stop.move, arrived, report);
  } else if (before.place !== stop.place && !arrived) {
    const text = `${carName(problem, stop.stay)} goes from ${there(problem, before, stop)} at minute ${stop.from} and no move is planned.`;
    report({ invariant: 2, rule: 'move-missing', text, operations: [], stays: [before.stay, stop.stay] });
  }
}

function checkMove(
  { problem, schedule }: PlanRead,
  before: Stop,
  stop: Stop,
  move: number,
  arrived: boolean,
  report: Report,
): void {
  const fact = isFact(problem, move);
  if (fact && arrived) return;
  const { start, end } = schedule.operations[move]!;
  const about = { invariant: 2, operations: [move], stays: [before.stay, stop.stay] } as const;
  if (!fact && (before.place === stop.place || arrived)) {
    const text = `${operationName(problem, move)} is planned though ${carName(problem, stop.stay)} stays in ${there(problem, before, stop)}.`;
    report({ ...about, rule: 'move-undemanded', text });
  }
  if (end !== stop.from) {
    const text = `${operationName(problem, move)} ends at minute ${end}; the stay it leads to starts at ${stop.from}.`;
    report({ ...about, rule: 'move-end', text });
  }
  if (start < before.from && !(fact && before.arrivalIsFact)) {
    const text = `${operationName(problem, move)} starts at minute ${start}, before the car is in ${placeName(problem, before.place)} at ${before.from}.`;
    report({ ...about, rule: 'move-start', text });
  }
}

function there(problem: Problem, before: Stop, stop: Stop): string {
  return `${placeName(problem, before.place)} to ${placeName(problem, stop.place)}`;
}

function checkWorkInStay(plan: PlanRead, o: number, operation: Operation, report: Report): void {
  const { problem, schedule, stops } = plan;
  const planned = schedule.operations[o];
  if (planned == null) return;
  const stop = stops[operation.stay!];
  const about = { invariant: 2, operations: [o], stays: [operation.stay!] } as const;
  if (stop === undefined) {
    const text = `${operationName(problem, o)} is planned in a stay that is absent.`;
    report({ ...about, rule: 'work-without-stay', text });
    return;
  }
  const fact = isFact(problem, o);
  if (planned.start < stop.from && !(fact && stop.arrivalIsFact)) {
    const text = `${operationName(problem, o)} starts at minute ${planned.start}, before the car is in ${placeName(problem, stop.place)} at ${stop.from}.`;
    report({ ...about, rule: 'work-before-stay', text });
  }
  if (planned.end > stop.departure && !(fact && stop.departureIsFact)) {
    const text = `${operationName(problem, o)} ends at minute ${planned.end}, after the car leaves ${placeName(problem, stop.place)} at ${stop.departure}.`;
    report({ ...about, rule: 'work-after-stay', text });
  }
  const places = operation.modes[planned.mode]!.places;
  if (
    places !== undefined &&
    !places.includes(stop.place) &&
    !(fact && problem.stays[stop.stay]!.fixed !== undefined)
  ) {
    const text = `${operationName(problem, o)} cannot be done in ${placeName(problem, stop.place)} in the way planned.`;
    report({ ...about, rule: 'mode-place', text });
  }
}
