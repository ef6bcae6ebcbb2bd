import { NEVER } from '../calendar/never.ts';
import type { Book } from './book.ts';
import { ANY_CREW, type EarliestFit } from './earliest-fit.ts';
import type { CrewModel, JobModel, OperationModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import type { LagWindow } from './lag-window.ts';

/**
 * The crew that operation `i` is bound to by the other half of a pair; for the first half, the crew whose second half
 * would end first; else any.
 */
export function crewFor(
  fit: EarliestFit,
  job: JobModel,
  plan: JobPlan,
  present: Uint8Array,
  i: number,
  place: number,
  window: LagWindow,
  latestEnd: number,
): number {
  const operation = job.operations[i]!;
  const bound = boundCrew(job, plan, present, i, job.crews.length);
  if (bound !== ANY_CREW) return bound;
  const half = secondHalf(operation, present, i);
  if (half < 0 || operation.modes.length === 1) return ANY_CREW;
  const second = job.operations[half]!;
  const { earliest, earliestEnd, latestStart } = window;
  const tail = tailThrough(second, i);
  let best = ANY_CREW;
  let bestEnd = NEVER;
  for (const crew of operation.byCrew.keys()) {
    // A crew whose second half could not end before the best so far is of no use.
    const by = Math.min(latestEnd, bestEnd - 1);
    if (earliest + operation.leastMinutes + tail > by) break;
    if (!fit.find(operation, place, earliest, earliestEnd, latestStart, by - tail, crew)) continue;
    let after = fit.end;
    for (const lag of second.lags) {
      if (lag.from !== i || lag.to !== half || lag.toEnd) continue;
      after = Math.max(after, (lag.fromEnd ? fit.end : fit.start) + lag.min);
    }
    if (!fit.find(second, place, after, 0, NEVER, by, crew)) continue;
    bestEnd = fit.end;
    best = crew;
  }
  return best;
}

/** The present operation that the crew of operation `i` goes on to; -1 when there is none. */
function secondHalf(operation: OperationModel, present: Uint8Array, i: number): number {
  for (const { first, second } of operation.crews) if (first === i && present[second] === 1) return second;
  return -1;
}

/** Fewest minutes from the end of operation `first` to the end of `second`, which comes after it. */
function tailThrough(second: OperationModel, first: number): number {
  let least = 0;
  for (const lag of second.lags) {
    if (lag.from === first && lag.to !== first && lag.fromEnd && !lag.toEnd) least = Math.max(least, lag.min);
  }
  return least + second.leastMinutes;
}

/**
 * The crew of whatever is placed already and tied to operation `i`, also through operations that are still to be placed:
 * a second wipe is bound to the first one's crew by the coat that both are tied to. Follows at most `most` ties in a row.
 */
function boundCrew(job: JobModel, plan: JobPlan, present: Uint8Array, i: number, most: number): number {
  if (most === 0) return ANY_CREW;
  for (const link of job.operations[i]!.crews) {
    const other = link.first === i ? link.second : link.first;
    const mode = plan.mode[other]!;
    if (mode >= 0) return job.operations[other]!.modes[mode]!.crew;
    const further = present[other] === 1 ? boundCrew(job, plan, present, other, most - 1) : ANY_CREW;
    if (further !== ANY_CREW) return further;
  }
  return ANY_CREW;
}

/** Where a crew is kept from one operation to the next: the end of what else keeps it busy between them; -1 when nothing does. */
export function gapBusyUntil(book: Book, job: JobModel, plan: JobPlan, link: CrewModel): number {
  const { first, second, held } = link;
  if (!held || plan.mode[first]! < 0 || plan.mode[second]! < 0) return -1;
  const { resources, amounts } = job.operations[first]!.modes[plan.mode[first]!]!;
  const from = Math.max(plan.end[first]!, book.shop.now);
  let until = -1;
  for (let u = 0; u < resources.length; u++) {
    const resource = book.shop.resources[resources[u]!]!;
    if (!resource.person) continue;
    const room = resource.capacity - amounts[u]!;
    until = Math.max(until, book.levels.lastAbove(resources[u]!, from, plan.start[second]!, room));
  }
  return until;
}
