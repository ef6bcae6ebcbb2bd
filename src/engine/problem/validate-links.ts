import type { Edge, Problem } from './problem.ts';
import type { Faults } from './problem-error.ts';

/** Ensures that lags, branches, crews, air spans, stills and the previous plan name operations that can be so linked. */
export function validateLinks(problem: Problem, faults: Faults): void {
  validateLags(problem, faults);
  validateDemands(problem, faults);
  const operation = (field: string, value: number) =>
    faults.index(field, value, problem.operations.length, 'operation');
  for (const [k, { first, second }] of problem.sameCrew.entries()) {
    operation(`sameCrew[${k}].first`, first);
    operation(`sameCrew[${k}].second`, second);
    if (first === second) faults.add(`sameCrew[${k}].second`, 'is the same operation as first');
  }
  for (const [k, span] of problem.airSpans.entries()) {
    faults.index(`airSpans[${k}].label`, span.label, problem.airLabels.length, 'air label');
    faults.index(`airSpans[${k}].stay`, span.stay, problem.stays.length, 'stay');
    validateEnds(problem, span, `airSpans[${k}]`, faults);
  }
  for (const [k, still] of problem.stills.entries()) {
    faults.index(`stills[${k}].job`, still.job, problem.jobs.length, 'job');
    validateEnds(problem, still, `stills[${k}]`, faults);
  }
  const previous = problem.previous?.operations;
  if (previous === undefined) return;
  if (previous.length !== problem.operations.length) {
    faults.add('previous.operations', `has ${previous.length} entries for ${problem.operations.length} operations`);
    return;
  }
  for (const [o, before] of previous.entries()) {
    if (before === null) continue;
    faults.index(`previous.operations[${o}].mode`, before.mode, problem.operations[o]!.modes.length, 'mode');
    if (!Number.isInteger(before.start)) faults.add(`previous.operations[${o}].start`, 'must be a whole number');
  }
}

interface Ends {
  readonly from: { readonly operation: number; readonly edge: Edge };
  readonly to: { readonly operation: number; readonly edge: Edge };
}

function validateEnds({ operations }: Problem, { from, to }: Ends, field: string, faults: Faults): void {
  faults.index(`${field}.from.operation`, from.operation, operations.length, 'operation');
  faults.index(`${field}.to.operation`, to.operation, operations.length, 'operation');
}

function validateLags(problem: Problem, faults: Faults): void {
  for (const [k, lag] of problem.lags.entries()) {
    const field = `lags[${k}]`;
    validateEnds(problem, lag, field, faults);
    if (!Number.isInteger(lag.min)) faults.add(`${field}.min`, `must be a whole number of minutes, not ${lag.min}`);
    if (lag.max !== undefined && !Number.isInteger(lag.max))
      faults.add(`${field}.max`, 'must be a whole number of minutes');
    if (lag.max !== undefined && lag.max < lag.min)
      faults.add(`${field}.max`, `${lag.max} is less than min ${lag.min}`);
    if (lag.remedy === undefined) continue;
    if (lag.max === undefined) faults.add(`${field}.remedy`, 'there is no max to make good');
    if (lag.remedy.length === 0) faults.add(`${field}.remedy`, 'is empty');
    for (const [r, remedy] of lag.remedy.entries()) {
      const named = `${field}.remedy[${r}]`;
      if (!faults.index(named, remedy, problem.operations.length, 'operation')) continue;
      if (problem.operations[remedy]!.presence !== 'optional') faults.add(named, 'a remedy must be optional');
    }
  }
}

/** One operation is demanded by one kind of thing only, so that whether it is present has one answer. */
function validateDemands(problem: Problem, faults: Faults): void {
  const demandedBy = new Map<number, string>();
  const claim = (operation: number, by: string, field: string) => {
    const other = demandedBy.get(operation);
    if (other !== undefined && other !== by)
      faults.add(field, `operation ${operation} is demanded by ${other} already`);
    demandedBy.set(operation, by);
  };
  for (const [s, { move }] of problem.stays.entries()) {
    if (move !== undefined) claim(move, `stays[${s}].move`, `stays[${s}].move`);
  }
  for (const [k, { remedy }] of problem.lags.entries()) {
    for (const operation of remedy ?? []) claim(operation, 'a remedy', `lags[${k}].remedy`);
  }
  for (const [b, branch] of problem.branches.entries()) {
    const field = `branches[${b}].alternatives`;
    if (branch.alternatives.length === 0) faults.add(field, 'is empty');
    for (const operation of new Set(branch.alternatives.flat())) {
      if (!faults.index(field, operation, problem.operations.length, 'operation')) continue;
      claim(operation, `branches[${b}]`, field);
      if (problem.operations[operation]!.presence !== 'optional') {
        faults.add(field, `operation ${operation} of a branch must be optional`);
      }
    }
  }
}
