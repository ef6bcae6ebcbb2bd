import type { OperationModel, StageModel } from './job-model.ts';

/** Most combinations of branches that are tried. */
const MOST_COMBINATIONS = 6;

/**
 * Which operations of a job are there to begin with, one answer for each combination of its branches. Moves and remedies
 * are not: they come in when something demands them.
 */
export function branchCombinations(
  operations: readonly OperationModel[],
  stages: readonly StageModel[],
  branches: readonly (readonly (readonly number[])[])[],
): Uint8Array[] {
  const base = Uint8Array.from(operations, (operation) => (operation.optional && operation.fixing === 'open' ? 0 : 1));
  for (const stage of stages) if (stage.move >= 0) base[stage.move] = 0;
  let combinations = [base];
  for (const alternatives of branches) {
    const frozen = alternatives.flat().find((i) => operations[i]!.fixing !== 'open' && !operations[i]!.fact);
    const open =
      frozen === undefined ? alternatives : alternatives.filter((alternative) => alternative.includes(frozen));
    combinations = combinations
      .flatMap((present) =>
        open.map((alternative) => {
          const chosen = present.slice();
          for (const i of alternative) chosen[i] = 1;
          return chosen;
        }),
      )
      .slice(0, MOST_COMBINATIONS);
  }
  return combinations;
}
