import { type Term, WeightedSum } from '../constraints/weighted-sum.ts';
import type { Job, Problem, Tier } from '../problem/problem.ts';
import type { Schedule } from '../problem/solution.ts';
import type { Model } from './model.ts';

/** Half of the variable that a tier makes least. */
export function addObjective(problem: Problem, model: Model, tier: Tier): number {
  switch (tier) {
    case 'makespan':
      return addMakespan(problem, model);
    case 'tardiness':
      return addTardiness(problem, model);
    case 'broken':
      return addBroken(problem, model);
    case 'lead':
      return addLead(problem, model);
    default:
      throw new Error(`no proof is made for the tier ${tier}`);
  }
}

function addMakespan(problem: Problem, model: Model): number {
  const { solver, lags, operations, precedence } = model;
  const makespan = solver.bounds.newVariable(0, problem.horizon);
  for (const [o, { end, endOffset }] of operations.entries()) {
    // Milestones that must coincide follow one another; the last of them counts.
    const followed = operations.some(
      (_, later) => later !== o && precedence.ordered(o, later) && (later > o || !precedence.ordered(later, o)),
    );
    if (!followed) lags.add(end, makespan, endOffset);
  }
  return makespan;
}

/** When the customer gets the car: start of handover, else end of `ready`, as half and offset. */
function handedOver(model: Model, job: Job): { half: number; offset: number } | undefined {
  if (job.handover !== undefined) return { half: model.operations[job.handover]!.start, offset: 0 };
  if (job.ready === undefined) return undefined;
  const { end, endOffset } = model.operations[job.ready]!;
  return { half: end, offset: endOffset };
}

function addTardiness(problem: Problem, model: Model): number {
  const { solver, lags } = model;
  const terms: Term[] = [];
  for (const job of problem.jobs) {
    const at = handedOver(model, job);
    if (at === undefined) continue;
    for (const wanted of [job.promise, job.due]) {
      if (wanted === undefined || wanted.weight === 0) continue;
      const late = solver.bounds.newVariable(0, Math.max(0, problem.horizon - wanted.at));
      lags.add(at.half, late, at.offset - wanted.at);
      terms.push({ half: late, weight: wanted.weight });
    }
  }
  return addSum(model, terms, 0);
}

function addBroken(problem: Problem, model: Model): number {
  const { solver } = model;
  const terms: Term[] = [];
  for (const job of problem.jobs) {
    const at = handedOver(model, job);
    if (at === undefined || job.promise === undefined || job.promise.weight === 0) continue;
    const broken = solver.bounds.newBoolean();
    solver.addClause([broken, 1, at.half ^ 1, at.offset - job.promise.at]);
    terms.push({ half: broken, weight: job.promise.weight });
  }
  return addSum(model, terms, 0);
}

function addLead(problem: Problem, model: Model): number {
  const terms: Term[] = [];
  let constant = 0;
  for (const job of problem.jobs) {
    if (job.ready === undefined) continue;
    const { end, endOffset } = model.operations[job.ready]!;
    terms.push({ half: end, weight: 1 });
    constant += endOffset;
    if (job.arrival === undefined) constant -= job.release;
    else terms.push({ half: model.operations[job.arrival]!.start ^ 1, weight: 1 });
  }
  return addSum(model, terms, constant);
}

function addSum({ solver }: Model, terms: readonly Term[], constant: number): number {
  const { bounds } = solver;
  let least = constant;
  let most = constant;
  for (const { half, weight } of terms) {
    least += weight * bounds.min(half);
    most += weight * bounds.max(half);
  }
  const total = bounds.newVariable(least, most);
  new WeightedSum(solver, terms, total, constant);
  return total;
}

/** The schedule that the bounds spell once every variable is decided. */
export function readSchedule(model: Model): Schedule {
  const { bounds } = model.solver;
  return {
    operations: model.operations.map(({ start, end, endOffset, modes }) => ({
      start: bounds.min(start),
      end: bounds.min(end) + endOffset,
      mode: modes.length === 1 ? 0 : modes.findIndex(({ presence }) => presence < 0 || bounds.min(presence) === 1),
    })),
    stays: [],
  };
}
