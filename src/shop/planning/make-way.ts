import type { OpenBook, Placement } from '../../engine/quote.ts';
import type { OneMore } from '../../trade/formulate/open-formulation.ts';
import { readJobPlan } from '../../trade/formulate/read-plan.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Span } from './part-of-problem.ts';

/** So many cars, the soonest first, are asked to give way: somebody is on the telephone. */
const MOST_ASKED = 24;

/** What the plan says of one job. */
export interface JobInPlan {
  readonly job: Job;
  readonly planned: PlannedJob;
  readonly operations: readonly PlannedOperation[];
  readonly stays: readonly PlannedStay[];
}

/** A car that gave way: as it was planned and as it is. */
export interface GaveWay {
  readonly before: JobInPlan;
  readonly after: JobInPlan;
}

export interface MakeWayOptions {
  readonly notBefore: Instant;
  /** The latest pickup for which anybody is moved. */
  readonly latestPickup: Instant;
  /** Units of search work. */
  readonly mostWork: number;
  /** Asked between attempts: false ends the search. */
  readonly goesOn: () => boolean;
  /** Whether a car that was ready sooner may be ready then: a first sieve. */
  readonly mayBeReadyAt: (before: JobInPlan, readyAt: Instant) => boolean;
  /** Whether those who gave way may be moved so. */
  readonly accepts: (way: WayMade) => boolean;
}

export interface WayMade {
  readonly placement: Placement;
  readonly gaveWay: readonly GaveWay[];
}

/** A book that is open, and what stands in it. */
export interface OpenGround {
  readonly shop: OpenBook;
  /** By job; where it stands in the plan. */
  readonly spans: readonly Span[];
  inPlan(job: number): JobInPlan;
}

/**
 * Where one more car would go if others, which are not in the shop yet, gave way to it. What is told to their customers
 * stands: their drop-offs are fixed in the problem, and nobody is picked up later than promised or wished. Null when that
 * brings the car no sooner.
 */
export function makeWay(
  { formulation }: OneMore,
  { shop, spans, inPlan }: OpenGround,
  { notBefore, latestPickup, mostWork, goesOn, mayBeReadyAt, accepts }: MakeWayOptions,
): WayMade | null {
  const { problem, axis, jobs } = formulation;
  const from = axis.toMinute(notBefore, 'ceil');
  const until = axis.toMinute(latestPickup, 'floor');
  const near = [...spans.keys()]
    .filter((j) => spans[j]!.to > from && spans[j]!.from < until && jobs[j]!.visits.length === 0)
    .sort((a, b) => spans[a]!.from - spans[b]!.from)
    .slice(0, MOST_ASKED);
  const wayOf = (placement: Placement, moved: readonly number[]): WayMade => {
    const gaveWay = moved.map((j): GaveWay => {
      const { job: planned, operations, stays } = readJobPlan(formulation, placement.schedule, j);
      return { before: inPlan(j), after: { job: jobs[j]!.job, planned, operations, stays } };
    });
    return { placement, gaveWay };
  };
  const found = shop.quoteMoving(problem, {
    near,
    notBefore: from,
    latestPickup: until,
    mostWork,
    goesOn,
    mayBeReadyAt: (j, minute) => mayBeReadyAt(inPlan(j), axis.toInstant(minute)),
    accepts: (placement, moved) => accepts(wayOf(placement, moved)),
  });
  return found === null ? null : wayOf(found.placement, found.moved);
}
