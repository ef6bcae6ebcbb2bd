import type { Schedule } from '../../engine/problem/solution.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { partOfProblem, spansOfJobs } from '../planning/part-of-problem.ts';

/** Cars that have left so long before another comes do not delay it. */
const NEIGHBOUR_MINUTES = 1440;

/** A planned car with those that are there at its time or left shortly before; null when it is not planned. */
export function amongNeighbours(
  formulation: Formulation,
  schedule: Schedule,
  job: number,
  spans: readonly { readonly from: number; readonly to: number }[] = spansOfJobs(formulation.problem, schedule),
): { readonly formulation: Formulation; readonly schedule: Schedule; readonly job: number } | null {
  const { from, to } = spans[job]!;
  if (from > to) return null;
  const isNear = (j: number) => spans[j]!.to >= from - NEIGHBOUR_MINUTES && spans[j]!.from <= to;
  const part = partOfFormulation(formulation, schedule, isNear);
  return { ...part, job: part.formulation.jobIndex(formulation.jobs[job]!.job.id)! };
}

/** Some jobs of a formulation and of its schedule, by themselves, with what the new indices mean. */
function partOfFormulation(
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
