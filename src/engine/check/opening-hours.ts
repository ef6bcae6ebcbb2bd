import type { Job } from '../problem/problem.ts';
import { covers } from './covering.ts';
import { isFact, type PlanRead, type Stop } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';

/**
 * Ensures that cars are dropped off and picked up in opening hours or at an arranged hour, not before the job's release,
 * that intake starts at drop-off, and that the car leaves at the end of its handover. O(jobs log intervals).
 */
export function checkOpeningHours(plan: PlanRead, report: Report): void {
  for (const [j, job] of plan.problem.jobs.entries()) {
    const itinerary = plan.itineraries[j]!;
    checkDropOff(plan, job, itinerary[0], report);
    checkPickup(plan, job, itinerary.at(-1), report);
  }
}

function checkDropOff({ problem, schedule }: PlanRead, job: Job, first: Stop | undefined, report: Report): void {
  const arrival = job.arrival === undefined ? undefined : schedule.operations[job.arrival];
  const operations = job.arrival === undefined ? [] : [job.arrival];
  const about = { invariant: 9, operations, stays: first === undefined ? [] : [first.stay] } as const;
  const fact = job.arrival !== undefined && isFact(problem, job.arrival);
  const actual = first !== undefined && problem.stays[first.stay]!.fixed?.from !== undefined;
  const dropOff = first?.from ?? arrival?.start;
  if (first !== undefined && arrival != null && first.from !== arrival.start && !(fact && actual)) {
    const text = `${operationName(problem, job.arrival!)} starts at minute ${arrival.start}; the car is dropped off at ${first.from}.`;
    report({ ...about, rule: 'arrival', text });
  }
  if (dropOff === undefined || fact || actual) return;
  if (first !== undefined && dropOff < job.release) {
    const text = `"${job.name}" is dropped off at minute ${dropOff}, before ${job.release}.`;
    report({ ...about, rule: 'drop-off-early', text });
  }
  if (!covers(job.dropOffOpen, dropOff)) {
    const text = `"${job.name}" is dropped off at minute ${dropOff}, when nobody is there to receive it.`;
    report({ ...about, rule: 'drop-off-closed', text });
  }
}

function checkPickup({ problem, schedule }: PlanRead, job: Job, last: Stop | undefined, report: Report): void {
  const handover = job.handover === undefined ? undefined : schedule.operations[job.handover];
  const operations = job.handover === undefined ? [] : [job.handover];
  const about = { invariant: 9, operations, stays: last === undefined ? [] : [last.stay] } as const;
  if (last !== undefined && handover != null && last.to !== handover.end) {
    const text = `${operationName(problem, job.handover!)} ends at minute ${handover.end}; the car's last stay ends at ${last.to}.`;
    report({ ...about, rule: 'handover', text });
  }
  const pickup = job.handover === undefined ? last?.to : handover?.start;
  if (pickup === undefined || (job.handover !== undefined && isFact(problem, job.handover))) return;
  if (covers(job.pickupOpen, pickup)) return;
  const text = `"${job.name}" is picked up at minute ${pickup}, when nobody is there to hand it over.`;
  report({ ...about, rule: 'pickup-closed', text });
}
