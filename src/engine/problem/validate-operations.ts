import type { Mode, Operation, Problem } from './problem.ts';
import type { Faults } from './problem-error.ts';

/** Ensures that operations, their modes and what is fixed of them are sound, and that a stay's work is its job's. */
export function validateOperations(problem: Problem, faults: Faults): void {
  for (const [o, operation] of problem.operations.entries()) {
    const field = `operations[${o}]`;
    faults.index(`${field}.job`, operation.job, problem.jobs.length, 'job');
    if (operation.stay !== undefined && faults.index(`${field}.stay`, operation.stay, problem.stays.length, 'stay')) {
      const owner = problem.stays[operation.stay]!.job;
      if (owner !== operation.job) faults.add(`${field}.stay`, `stay ${operation.stay} belongs to job ${owner}`);
    }
    faults.whole(`${field}.release`, operation.release);
    faults.whole(`${field}.deadline`, operation.deadline);
    faults.whole(`${field}.leastFirstPiece`, operation.leastFirstPiece);
    faults.whole(`${field}.longestPause`, operation.longestPause);
    if (!operation.pausable && (operation.leastFirstPiece !== undefined || operation.longestPause !== undefined)) {
      faults.add(`${field}.pausable`, 'leastFirstPiece and longestPause are for pausable work');
    }
    if (operation.modes.length === 0) faults.add(`${field}.modes`, 'is empty');
    for (const [m, mode] of operation.modes.entries()) validateMode(problem, mode, `${field}.modes[${m}]`, faults);
    validateFixed(operation, field, faults);
  }
}

function validateMode(problem: Problem, mode: Mode, field: string, faults: Faults): void {
  faults.whole(`${field}.work`, mode.work);
  faults.index(`${field}.progress`, mode.progress, problem.progresses.length, 'progress');
  faults.index(`${field}.budget`, mode.budget, problem.budgets.length, 'budget');
  faults.intervals(`${field}.allowed`, mode.allowed);
  if (mode.places?.length === 0) faults.add(`${field}.places`, 'is empty');
  for (const [k, place] of (mode.places ?? []).entries()) {
    faults.index(`${field}.places[${k}]`, place, problem.places.length, 'place');
  }
  for (const [u, { resource, amount }] of mode.uses.entries()) {
    faults.index(`${field}.uses[${u}].resource`, resource, problem.resources.length, 'resource');
    faults.whole(`${field}.uses[${u}].amount`, amount);
    if (mode.uses.findIndex((use) => use.resource === resource) !== u) {
      faults.add(`${field}.uses[${u}].resource`, `resource ${resource} is named twice`);
    }
  }
}

function validateFixed({ fixed, modes }: Operation, field: string, faults: Faults): void {
  if (fixed === undefined) return;
  faults.whole(`${field}.fixed.start`, fixed.start);
  faults.index(`${field}.fixed.mode`, fixed.mode, modes.length, 'mode');
  if (fixed.by === 'fact' && fixed.mode === undefined) faults.add(`${field}.fixed.mode`, 'a fact has a mode');
  if (fixed.by === 'frozen' && fixed.end !== undefined) faults.add(`${field}.fixed.end`, 'only a fact has an end');
  faults.whole(`${field}.fixed.end`, fixed.end);
  if (fixed.end !== undefined && fixed.end < fixed.start) {
    faults.add(`${field}.fixed.end`, `${fixed.end} lies before the start at ${fixed.start}`);
  }
}
