import type { Problem } from './problem.ts';
import type { Faults } from './problem-error.ts';

/** Ensures that jobs and their stays name each other, and that what marks a visit (intake, handover) is always done. */
export function validateJobs(problem: Problem, faults: Faults): void {
  for (const j of problem.jobs.keys()) validateJob(problem, j, faults);
  for (const s of problem.stays.keys()) validateStay(problem, s, faults);
}

function validateJob({ jobs, stays, operations }: Problem, j: number, faults: Faults): void {
  const job = jobs[j]!;
  const field = `jobs[${j}]`;
  faults.whole(`${field}.release`, job.release);
  faults.intervals(`${field}.dropOffOpen`, job.dropOffOpen);
  faults.intervals(`${field}.pickupOpen`, job.pickupOpen);
  for (const [k, stay] of job.stays.entries()) {
    if (!faults.index(`${field}.stays[${k}]`, stay, stays.length, 'stay')) continue;
    if (stays[stay]!.job !== j) faults.add(`${field}.stays[${k}]`, `stay ${stay} belongs to job ${stays[stay]!.job}`);
    if (job.stays.indexOf(stay) !== k) faults.add(`${field}.stays[${k}]`, `stay ${stay} is named twice`);
  }
  for (const role of ['arrival', 'handover', 'ready'] as const) {
    const operation = job[role];
    if (operation === undefined || !faults.index(`${field}.${role}`, operation, operations.length, 'operation'))
      continue;
    if (operations[operation]!.job !== j) faults.add(`${field}.${role}`, `operation ${operation} is another job's`);
    if (operations[operation]!.presence !== 'always') faults.add(`${field}.${role}`, 'must always be present');
  }
  for (const aim of ['promise', 'due'] as const) {
    if (job[aim] === undefined) continue;
    faults.whole(`${field}.${aim}.at`, job[aim].at);
    faults.whole(`${field}.${aim}.weight`, job[aim].weight);
    if (job.handover === undefined && job.ready === undefined) {
      faults.add(`${field}.${aim}`, 'needs a handover or ready operation to be measured at');
    }
  }
}

function validateStay({ jobs, stays, places, operations }: Problem, s: number, faults: Faults): void {
  const stay = stays[s]!;
  const field = `stays[${s}]`;
  if (!faults.index(`${field}.job`, stay.job, jobs.length, 'job')) return;
  if (!jobs[stay.job]!.stays.includes(s)) faults.add(`${field}.job`, `job ${stay.job} does not name stay ${s}`);
  if (stay.places.length === 0 && stay.fixed === undefined) faults.add(`${field}.places`, 'is empty');
  for (const [k, place] of stay.places.entries()) faults.index(`${field}.places[${k}]`, place, places.length, 'place');
  faults.index(`${field}.fixed.place`, stay.fixed?.place, places.length, 'place');
  faults.whole(`${field}.fixed.from`, stay.fixed?.from);
  if (stay.move === undefined || !faults.index(`${field}.move`, stay.move, operations.length, 'operation')) return;
  const move = operations[stay.move]!;
  if (jobs[stay.job]!.stays[0] === s)
    faults.add(`${field}.move`, 'the first stay is reached by drop-off, not by a move');
  if (move.job !== stay.job) faults.add(`${field}.move`, `operation ${stay.move} is another job's`);
  if (move.presence !== 'optional') faults.add(`${field}.move`, 'a move must be optional');
  if (move.stay !== undefined) faults.add(`operations[${stay.move}].stay`, 'a move is in no stay');
  if (move.modes.some((mode) => mode.places !== undefined)) {
    faults.add(`operations[${stay.move}].modes`, 'a move has no places of its own');
  }
}
