import type { Job, Problem, Tier } from '../problem/problem.ts';
import type { Objective, Schedule } from '../problem/solution.ts';
import { coveredMinutes } from './covering.ts';
import { crewOf } from './people.ts';
import { isFact, type PlanRead, readPlan } from './plan-read.ts';

/** What a crew's change costs in the `change` tier, in minutes of moved starts. */
const CREW_CHANGE_MINUTES = 60;

/** The value of every tier of the problem, computed from the schedule alone, for comparison with the solver's own. */
export function measure(problem: Problem, schedule: Schedule): Objective {
  const plan = readPlan(problem, schedule);
  return problem.tiers.map((tier) => MEASURES[tier](plan));
}

const MEASURES: Readonly<Record<Tier, (plan: PlanRead) => number>> = {
  broken: (plan) =>
    sumOverJobs(plan, ({ promise }, at) => (promise !== undefined && at > promise.at ? promise.weight : 0)),
  tardiness: (plan) =>
    sumOverJobs(plan, ({ promise, due }, at) =>
      [promise, due].reduce((sum, wanted) => sum + (wanted ? wanted.weight * Math.max(0, at - wanted.at) : 0), 0),
    ),
  overtime: ({ problem, schedule, pieces }) => {
    let minutes = 0;
    for (const [o, operation] of problem.operations.entries()) {
      const planned = schedule.operations[o];
      if (planned == null) continue;
      for (const { resource, amount } of operation.modes[planned.mode]!.uses) {
        const overtime = problem.resources[resource]!.overtime;
        if (overtime === undefined || amount === 0) continue;
        for (const piece of pieces[o]!) minutes += coveredMinutes(overtime, piece.from, piece.to);
      }
    }
    return minutes;
  },
  lead: ({ problem, schedule, itineraries }) => {
    let minutes = 0;
    for (const [j, job] of problem.jobs.entries()) {
      const ready = job.ready === undefined ? undefined : schedule.operations[job.ready];
      if (ready == null) continue;
      const arrival = job.arrival === undefined ? undefined : schedule.operations[job.arrival];
      minutes += ready.end - (itineraries[j]![0]?.from ?? arrival?.start ?? job.release);
    }
    return minutes;
  },
  change: ({ problem, schedule }) => {
    let minutes = 0;
    for (const [o, before] of (problem.previous?.operations ?? []).entries()) {
      const planned = schedule.operations[o];
      if (planned == null || before === null || isFact(problem, o)) continue;
      minutes += Math.abs(planned.start - before.start);
      const sameCrew = crewOf(problem, o, planned.mode).join() === crewOf(problem, o, before.mode).join();
      if (!sameCrew) minutes += CREW_CHANGE_MINUTES;
    }
    return minutes;
  },
  standing: ({ problem, schedule }) =>
    schedule.stays.reduce(
      (sum, stay) =>
        sum + (stay === null ? 0 : (stay.to - stay.from) * (problem.places[stay.place]!.standingCost ?? 0)),
      0,
    ),
  makespan: ({ schedule }) => schedule.operations.reduce((latest, planned) => Math.max(latest, planned?.end ?? 0), 0),
};

/** Sums over jobs a term that depends on when the customer gets the car: start of handover, else end of `ready`. */
function sumOverJobs({ problem, schedule }: PlanRead, term: (job: Job, at: number) => number): number {
  let sum = 0;
  for (const job of problem.jobs) {
    const handover = job.handover === undefined ? undefined : schedule.operations[job.handover];
    const ready = job.ready === undefined ? undefined : schedule.operations[job.ready];
    const at = handover?.start ?? ready?.end;
    if (at !== undefined) sum += term(job, at);
  }
  return sum;
}
