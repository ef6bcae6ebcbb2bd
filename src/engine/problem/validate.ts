import type { Problem } from './problem.ts';
import { Faults, ProblemError } from './problem-error.ts';
import { validateJobs } from './validate-jobs.ts';
import { validateLagCycles } from './validate-lag-cycles.ts';
import { validateLinks } from './validate-links.ts';
import { validateOperations } from './validate-operations.ts';
import { validateShop } from './validate-shop.ts';

export { ProblemError } from './problem-error.ts';

/** Every way in which a problem contradicts itself, each naming its field; none when it may be solved and checked. */
export function validate(problem: Problem): string[] {
  const faults = new Faults();
  faults.whole('horizon', problem.horizon);
  faults.whole('now', problem.now);
  if (problem.now > problem.horizon) faults.add('now', `lies after the horizon at ${problem.horizon}`);
  if (new Set(problem.tiers).size < problem.tiers.length) faults.add('tiers', 'names a tier twice');
  validateShop(problem, faults);
  validateJobs(problem, faults);
  validateOperations(problem, faults);
  validateLinks(problem, faults);
  if (faults.list.length === 0) validateLagCycles(problem, faults);
  return faults.list;
}

/** Throws a `ProblemError` unless the problem is valid. */
export function assertValid(problem: Problem): void {
  const faults = validate(problem);
  if (faults.length > 0) throw new ProblemError(faults);
}
