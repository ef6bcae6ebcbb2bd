import { ALWAYS } from '../constraints/task.ts';
import { type Term, WeightedSum } from '../constraints/weighted-sum.ts';
import type { Job, Problem, Tier } from '../problem/problem.ts';
import type { PlannedStay, Schedule } from '../problem/solution.ts';
import { addChange } from './change.ts';
import type { Instant } from './logic.ts';
import type { Model } from './model.ts';
import { addOvertime } from './overtime.ts';
import { addStanding } from './standing.ts';
import { latestMinute } from './stays.ts';

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
    case 'overtime':
      return addSum(model, ...addOvertime(problem, model));
    case 'change':
      return addSum(model, addChange(problem, model), 0);
    case 'standing':
      return addSum(model, addStanding(problem, model), 0);
  }
}

function addMakespan(problem: Problem, model: Model): number {
  const { solver, lags, operations, precedence } = model;
  const makespan = solver.bounds.newVariable(0, latestMinute(problem));
  for (const [o, { end, endOffset, presence }] of operations.entries()) {
    // Milestones that must coincide follow one another; the last of them counts.
    const followed = operations.some(
      (operation, later) =>
        later !== o &&
        operation.presence === ALWAYS &&
        precedence.ordered(o, later) &&
        (later > o || !precedence.ordered(later, o)),
    );
    if (!followed) lags.add(end, makespan, endOffset, presence === ALWAYS ? [] : [presence]);
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
      const late = solver.bounds.newVariable(0, Math.max(0, latestMinute(problem) - wanted.at));
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
  for (const [j, job] of problem.jobs.entries()) {
    if (job.ready === undefined) continue;
    const { end, endOffset } = model.operations[job.ready]!;
    terms.push({ half: end, weight: 1 });
    constant += endOffset;
    const arrived = model.itineraries[j]!.stays.length > 0 ? dropOff(problem, model, j) : undefined;
    if (arrived !== undefined) {
      terms.push({ half: arrived.half ^ 1, weight: 1 });
      constant -= arrived.offset;
    } else if (job.arrival === undefined) constant -= job.release;
    else terms.push({ half: model.operations[job.arrival]!.start ^ 1, weight: 1 });
  }
  return addSum(model, terms, constant);
}

/** When the car is dropped off: the arrival of the first stay that is there. */
function dropOff(problem: Problem, { itineraries, logic }: Model, job: number): Instant {
  const { stays } = itineraries[job]!;
  const surelyFirst = stays.find(({ first }) => logic.isTrue(first));
  if (surelyFirst !== undefined) return surelyFirst.from;
  const at = logic.newInstant(0, latestMinute(problem));
  for (const { first, from } of stays) logic.same(from, at, [first]);
  return at;
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
export function readSchedule({ solver, logic, operations, itineraries }: Model): Schedule {
  const { bounds } = solver;
  const isAbsent = (presence: number) => presence !== ALWAYS && logic.isFalse(presence);
  const stays = itineraries.flatMap((itinerary) => itinerary.stays);
  const value = ({ half, offset }: Instant) => bounds.min(half) + offset;
  const planned: (PlannedStay | null)[] = stays.map(() => null);
  for (const { stay, present, places, from, to } of stays) {
    if (logic.isFalse(present)) continue;
    const { place } = places.find(({ chosen }) => logic.isTrue(chosen))!;
    planned[stay] = { place, from: value(from), to: value(to) };
  }
  return {
    operations: operations.map(({ start, end, endOffset, modes, presence }) => {
      if (isAbsent(presence)) return null;
      const mode = modes.length === 1 ? 0 : modes.findIndex((each) => !isAbsent(each.presence));
      return { start: bounds.min(start), end: bounds.min(end) + endOffset, mode };
    }),
    stays: planned,
  };
}
