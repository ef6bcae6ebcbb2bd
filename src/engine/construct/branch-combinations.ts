import type { JobModel } from './job-model.ts';

/** Most combinations of branches that are tried. */
const MOST_COMBINATIONS = 6;

/** Which operations of a job are there to begin with, one answer for each combination of its branches. */
export function branchCombinations(job: JobModel): Uint8Array[] {
  const base = Uint8Array.from(job.operations, (operation) =>
    operation.optional && operation.fixing === 'open' ? 0 : 1,
  );
  for (const stage of job.stages) if (stage.move >= 0) base[stage.move] = 0;
  let combinations = [base];
  for (const alternatives of job.branches) {
    const frozen = alternatives.flat().find((i) => job.operations[i]!.fixing !== 'open' && !job.operations[i]!.fact);
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
