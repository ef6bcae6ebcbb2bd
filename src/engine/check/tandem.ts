import type { Hold } from './place-holds.ts';
import { isJudged } from './place-holds.ts';
import type { PlanRead } from './plan-read.ts';
import { carName, placeName, type Report } from './violation.ts';

/** A passage of one car through the way in to a place. */
interface Passage {
  readonly job: number;
  readonly stay: number;
  readonly place: number;
  readonly from: number;
  readonly to: number;
  readonly settled: boolean;
  readonly operations: readonly number[];
}

function passages({ problem, schedule, itineraries }: PlanRead): Passage[] {
  const found: Passage[] = [];
  for (const itinerary of itineraries) {
    for (const [k, stop] of itinerary.entries()) {
      const { job, stay, place } = stop;
      const instant = { job, stay, place, operations: [] };
      if (stop.first) found.push({ ...instant, from: stop.from, to: stop.from + 1, settled: stop.arrivalIsFact });
      if (stop.last) found.push({ ...instant, from: stop.to, to: stop.to + 1, settled: stop.departureIsFact });
      if (stop.move === undefined || stop.first) continue;
      const { start, end } = schedule.operations[stop.move]!;
      const settled = problem.operations[stop.move]!.fixed?.by === 'fact';
      const moving = { job, stay, from: start, to: Math.max(end, start + 1), settled, operations: [stop.move] };
      found.push({ ...moving, place }, { ...moving, place: itinerary[k - 1]!.place });
    }
  }
  return found;
}

/**
 * Ensures that no other car stands in the way while a car moves in to or out of a place behind others (tandem parking).
 * O((moves + stays) log stays), the holds of a place being disjoint; overlapping ones are a violation of their own.
 */
export function checkTandem(plan: PlanRead, byPlace: readonly (readonly Hold[])[], report: Report): void {
  const { problem } = plan;
  const latestLeaving = byPlace.map((holds) => {
    let latest = Number.NEGATIVE_INFINITY;
    return holds.map((hold) => {
      latest = Math.max(latest, hold.to);
      return latest;
    });
  });
  for (const passage of passages(plan)) {
    for (const blocker of problem.places[passage.place]!.blockedBy) {
      const holds = byPlace[blocker]!;
      let k = lastBeginningBefore(holds, passage.to);
      for (; k >= 0 && latestLeaving[blocker]![k]! > passage.from; k--) {
        const hold = holds[k]!;
        if (hold.owner === passage.job || hold.to <= passage.from) continue;
        if (!isJudged(passage.settled ? 'settled' : 'planned', hold.kind)) continue;
        const other = hold.stay === undefined ? 'something outside this plan' : carName(problem, hold.stay);
        const text = `${carName(problem, passage.stay)} passes ${placeName(problem, blocker)} at minute ${passage.from} on its way in to or out of ${placeName(problem, passage.place)}, and ${other} holds it from ${hold.heldFrom} to ${hold.to}.`;
        const stays = [passage.stay, hold.stay].filter((stay) => stay !== undefined);
        report({ invariant: 2, rule: 'blocked', text, operations: passage.operations, stays });
      }
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
