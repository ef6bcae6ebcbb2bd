import type { OperationModel, StageModel } from './job-model.ts';

/** Most combinations of branches that are tried. */
const MOST_COMBINATIONS = 6;

type Alternatives = readonly (readonly number[])[];

/**
 * Which operations of a job are there to begin with, one answer for each combination of its branches. Moves and remedies
 * are not: they come in when something demands them.
 */
export function branchCombinations(
  operations: readonly OperationModel[],
  stages: readonly StageModel[],
  branches: readonly Alternatives[],
): Uint8Array[] {
  const base = new Uint8Array(operations.length);
  for (let i = 0; i < base.length; i++) base[i] = operations[i]!.optional && operations[i]!.fixing === 'open' ? 0 : 1;
  for (const stage of stages) if (stage.move >= 0) base[stage.move] = 0;
  let combinations: Uint8Array[] = [base];
  for (const alternatives of branches) {
    combinations = withEach(combinations, alternatives, frozenMember(operations, alternatives));
  }
  return combinations;
}

/** Each combination with each alternative of one more branch; only with those that have operation `frozen`, when it is not -1. */
function withEach(combinations: readonly Uint8Array[], alternatives: Alternatives, frozen: number): Uint8Array[] {
  const further: Uint8Array[] = [];
  for (const present of combinations) {
    for (const alternative of alternatives) {
      if (further.length === MOST_COMBINATIONS) return further;
      if (frozen >= 0 && !alternative.includes(frozen)) continue;
      const chosen = present.slice();
      for (const i of alternative) chosen[i] = 1;
      further.push(chosen);
    }
  }
  return further;
}

/** The operation by which a person has chosen an alternative already; -1 when nobody has. */
function frozenMember(operations: readonly OperationModel[], alternatives: Alternatives): number {
  for (const alternative of alternatives) {
    for (const i of alternative) if (operations[i]!.fixing !== 'open' && !operations[i]!.fact) return i;
  }
  return -1;
}
