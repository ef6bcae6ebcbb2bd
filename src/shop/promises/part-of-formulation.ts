import type { Schedule } from '../../engine/problem/solution.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { partOfProblem } from '../planning/part-of-problem.ts';

/** Some jobs of a formulation and of its schedule, by themselves, with what the new indices mean. */
export function partOfFormulation(
  formulation: Formulation,
  schedule: Schedule,
  keep: (job: number) => boolean,
): { readonly formulation: Formulation; readonly schedule: Schedule } {
  const { problem } = formulation;
  const part = partOfProblem(problem, schedule, keep);
  const jobs = formulation.jobs.filter((_, j) => keep(j));
  const operations = formulation.operations.filter((_, o) => keep(problem.operations[o]!.job));
  const indexOf = new Map(jobs.map(({ job }, j) => [job.id, j]));
  return {
    formulation: {
      ...formulation,
      problem: part.problem,
      jobs,
      operations,
      jobIndex: (id) => indexOf.get(id),
      operationIndex: (id, key) => {
        const o = operations.findIndex((each) => each.jobId === id && each.key === key);
        return o < 0 ? undefined : o;
      },
    },
    schedule: part.schedule,
  };
}
