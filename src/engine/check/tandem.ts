import type { Hold } from './place-holds.ts';
import { isJudged } from './place-holds.ts';
import type { PlanRead, Stop } from './plan-read.ts';
import { isFact } from './plan-read.ts';
import { carName, placeName, type Report } from './violation.ts';

/** The holds of each place, sorted by their beginning, and how late those up to each of them last. */
interface HoldsByPlace {
  readonly holds: readonly (readonly Hold[])[];
  readonly latestLeaving: readonly (readonly number[])[];
}

/** The time in which one car passes whatever stands in the way to a place. */
interface Passage {
  readonly from: number;
  readonly to: number;
  readonly settled: boolean;
  readonly operations: readonly number[];
}

const NO_OPERATIONS: readonly number[] = [];

/**
 * Ensures that no other car stands in the way while a car moves in to or out of a place behind others (tandem parking).
 * O((moves + stays) log stays), the holds of a place being disjoint; overlapping ones are a violation of their own.
 */
export function checkTandem(plan: PlanRead, byPlace: readonly (readonly Hold[])[], report: Report): void {
  const { problem, schedule, itineraries } = plan;
  const taken: HoldsByPlace = { holds: byPlace, latestLeaving: byPlace.map(latestLeaving) };
  for (const itinerary of itineraries) {
    for (let k = 0; k < itinerary.length; k++) {
      const stop = itinerary[k]!;
      const before = k === 0 ? stop : itinerary[k - 1]!;
      if (!isBehindOthers(plan, stop) && !isBehindOthers(plan, before)) continue;
      if (stop.first) checkPassage(plan, taken, stop, stop.place, atInstant(stop.from, stop.arrivalIsFact), report);
      if (stop.last) checkPassage(plan, taken, stop, stop.place, atInstant(stop.to, stop.departureIsFact), report);
      if (stop.move === undefined || stop.first) continue;
      const { start, end } = schedule.operations[stop.move]!;
      const settled = isFact(problem, stop.move);
      const passage = { from: start, to: Math.max(end, start + 1), settled, operations: [stop.move] };
      checkPassage(plan, taken, stop, stop.place, passage, report);
      checkPassage(plan, taken, stop, before.place, passage, report);
    }
  }
}

function isBehindOthers({ problem }: PlanRead, stop: Stop): boolean {
  return problem.places[stop.place]!.blockedBy.length > 0;
}

function atInstant(minute: number, settled: boolean): Passage {
  return { from: minute, to: minute + 1, settled, operations: NO_OPERATIONS };
}

/** By hold, the latest leaving among it and those before it. */
function latestLeaving(holds: readonly Hold[]): number[] {
  const leaving: number[] = [];
  let latest = Number.NEGATIVE_INFINITY;
  for (const hold of holds) {
    latest = Math.max(latest, hold.to);
    leaving.push(latest);
  }
  return leaving;
}

function checkPassage(
  { problem }: PlanRead,
  taken: HoldsByPlace,
  { job, stay }: Stop,
  place: number,
  { from, to, settled, operations }: Passage,
  report: Report,
): void {
  for (const blocker of problem.places[place]!.blockedBy) {
    const holds = taken.holds[blocker]!;
    let k = lastBeginningBefore(holds, to);
    for (; k >= 0 && taken.latestLeaving[blocker]![k]! > from; k--) {
      const hold = holds[k]!;
      if (hold.owner === job || hold.to <= from) continue;
      if (!isJudged(settled ? 'settled' : 'planned', hold.kind)) continue;
      const other = hold.stay === undefined ? 'something outside this plan' : carName(problem, hold.stay);
      const text = `${carName(problem, stay)} passes ${placeName(problem, blocker)} at minute ${from} on its way in to or out of ${placeName(problem, place)}, and ${other} holds it from ${hold.heldFrom} to ${hold.to}.`;
      const stays = [stay, hold.stay].filter((each) => each !== undefined);
      report({ invariant: 2, rule: 'blocked', text, operations, stays });
    }
  }
}

function lastBeginningBefore(holds: readonly Hold[], minute: number): number {
  let low = 0;
  let high = holds.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds[middle]!.heldFrom < minute) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
