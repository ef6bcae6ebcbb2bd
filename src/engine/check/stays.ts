import type { Operation } from '../problem/problem.ts';
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
    for (const [k, stop] of itinerary.entries()) {
      checkPlace(plan, stop, report);
      if (k > 0) checkPassage(plan, itinerary[k - 1]!, stop, report);
      else checkNoMove(plan, stop, report);
    }
  }
  for (const [o, operation] of plan.problem.operations.entries()) {
    if (operation.stay !== undefined) checkWorkInStay(plan, o, operation, report);
  }
}

function checkStayPresence({ problem, schedule }: PlanRead, report: Report): void {
  for (const [s, stay] of problem.stays.entries()) {
    if (schedule.stays[s] != null) continue;
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
  const car = carName(problem, stop.stay);
  const place = placeName(problem, stop.place);
  const about = { invariant: 2, operations: [], stays: [stop.stay] } as const;
  if (stay.fixed === undefined && !stay.places.includes(stop.place)) {
    report({ ...about, rule: 'place', text: `${place} is not a place that ${car} can take for this stay.` });
  }
  if (stop.to < stop.from) {
    const text = `A stay of ${car} in ${place} ends at minute ${stop.to}, before it starts at ${stop.from}.`;
    report({ ...about, rule: 'stay-reversed', text });
  }
}

/** A first stay is reached by drop-off: a move into it is planned only when the stays before it are absent in error. */
function checkNoMove({ problem }: PlanRead, stop: Stop, report: Report): void {
  if (stop.move === undefined || isFact(problem, stop.move)) return;
  const text = `${operationName(problem, stop.move)} is planned though the car is dropped off at its first place.`;
  report({ invariant: 2, rule: 'move-undemanded', text, operations: [stop.move], stays: [stop.stay] });
}

function checkPassage({ problem, schedule }: PlanRead, before: Stop, stop: Stop, report: Report): void {
  const car = carName(problem, stop.stay);
  const stays = [before.stay, stop.stay];
  const there = `${placeName(problem, before.place)} to ${placeName(problem, stop.place)}`;
  if (before.to !== stop.from) {
    const text = `${car} leaves ${placeName(problem, before.place)} at minute ${before.to} and is in ${placeName(problem, stop.place)} from ${stop.from}: it is not in exactly one place between.`;
    report({ invariant: 2, rule: 'stay-gap', text, operations: [], stays });
  }
  if (stop.move === undefined) {
    const arrived = problem.stays[stop.stay]!.fixed?.from !== undefined;
    if (before.place === stop.place || arrived) return;
    const text = `${car} goes from ${there} at minute ${stop.from} and no move is planned.`;
    report({ invariant: 2, rule: 'move-missing', text, operations: [], stays });
    return;
  }
  if (isFact(problem, stop.move) && problem.stays[stop.stay]!.fixed?.from !== undefined) return;
  const move = schedule.operations[stop.move]!;
  const name = operationName(problem, stop.move);
  const about = { invariant: 2, operations: [stop.move], stays } as const;
  if (
    !isFact(problem, stop.move) &&
    (before.place === stop.place || problem.stays[stop.stay]!.fixed?.from !== undefined)
  ) {
    report({ ...about, rule: 'move-undemanded', text: `${name} is planned though ${car} stays in ${there}.` });
  }
  if (move.end !== stop.from) {
    const text = `${name} ends at minute ${move.end}; the stay it leads to starts at ${stop.from}.`;
    report({ ...about, rule: 'move-end', text });
  }
  if (move.start < before.from && !(isFact(problem, stop.move) && before.arrivalIsFact)) {
    const text = `${name} starts at minute ${move.start}, before the car is in ${placeName(problem, before.place)} at ${before.from}.`;
    report({ ...about, rule: 'move-start', text });
  }
}

function checkWorkInStay(plan: PlanRead, o: number, operation: Operation, report: Report): void {
  const { problem, schedule, stops } = plan;
  const planned = schedule.operations[o];
  if (planned == null) return;
  const name = operationName(problem, o);
  const about = { invariant: 2, operations: [o], stays: [operation.stay!] } as const;
  const stop = stops[operation.stay!];
  const fact = isFact(problem, o);
  if (stop === undefined) {
    report({ ...about, rule: 'work-without-stay', text: `${name} is planned in a stay that is absent.` });
    return;
  }
  const place = placeName(problem, stop.place);
  if (planned.start < stop.from && !(fact && stop.arrivalIsFact)) {
    const text = `${name} starts at minute ${planned.start}, before the car is in ${place} at ${stop.from}.`;
    report({ ...about, rule: 'work-before-stay', text });
  }
  if (planned.end > stop.departure && !(fact && stop.departureIsFact)) {
    const text = `${name} ends at minute ${planned.end}, after the car leaves ${place} at ${stop.departure}.`;
    report({ ...about, rule: 'work-after-stay', text });
  }
  const places = operation.modes[planned.mode]!.places;
  if (
    places !== undefined &&
    !places.includes(stop.place) &&
    !(fact && problem.stays[stop.stay]!.fixed !== undefined)
  ) {
    report({ ...about, rule: 'mode-place', text: `${name} cannot be done in ${place} in the way planned.` });
  }
}
