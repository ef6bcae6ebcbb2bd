import type { Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Instant, Logic } from './logic.ts';
import { endOf, type ModelledOperation, startOf } from './modelled-operation.ts';
import type { Itinerary } from './stays.ts';

/**
 * Ensures that cars are dropped off and picked up in opening hours or at an arranged hour, not before the job's release,
 * that intake starts at drop-off, and that the car leaves at the end of its handover.
 */
export function addOpeningHours(
  problem: Problem,
  operations: readonly ModelledOperation[],
  itineraries: readonly Itinerary[],
  logic: Logic,
): void {
  for (const [j, job] of problem.jobs.entries()) {
    const { stays } = itineraries[j]!;
    const arrivalIsFact = job.arrival !== undefined && isFact(problem, job.arrival);
    const receive = (at: Instant, conditions: readonly number[]) => {
      if (job.dropOffOpen !== undefined) logic.within(at, job.dropOffOpen, conditions);
    };
    for (const { stay, first, from } of stays) {
      const isActual = problem.stays[stay]!.fixed?.from !== undefined;
      if (job.arrival !== undefined && !(arrivalIsFact && isActual)) {
        logic.same(startOf(operations[job.arrival]!), from, [first]);
      }
      if (arrivalIsFact || isActual) continue;
      logic.lag(logic.minute(job.release), from, 0, [first]);
      receive(from, [first]);
    }
    if (stays.length === 0 && job.arrival !== undefined && !arrivalIsFact) {
      receive(startOf(operations[job.arrival]!), []);
    }

    const handoverIsFact = job.handover !== undefined && isFact(problem, job.handover);
    const handOver = (at: Instant, conditions: readonly number[]) => {
      if (job.pickupOpen !== undefined && !handoverIsFact) logic.within(at, job.pickupOpen, conditions);
    };
    if (job.handover !== undefined) handOver(startOf(operations[job.handover]!), []);
    for (const { last, to } of stays) {
      if (job.handover !== undefined) logic.same(endOf(operations[job.handover]!), to, [last]);
      else handOver(to, [last]);
      if (!handoverIsFact) logic.lag(to, logic.minute(problem.horizon), 0, [last]);
    }
  }
}
