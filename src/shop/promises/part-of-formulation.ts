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
  const isNear: boolean[] = [];
  for (const span of spans) isNear.push(span.to >= from - NEIGHBOUR_MINUTES && span.from <= to);
  const part = partOfFormulation(formulation, schedule, isNear);
  return { ...part, job: part.formulation.jobIndex(formulation.jobs[job]!.job.id)! };
}

/** Some jobs of a formulation and of its schedule, by themselves, with what the new indices mean. */
function partOfFormulation(
  formulation: Formulation,
  schedule: Schedule,
  keeps: readonly boolean[],
): { readonly formulation: Formulation; readonly schedule: Schedule } {
  const { problem } = formulation;
  const part = partOfProblem(problem, schedule, keeps);
  const jobs: Formulation['jobs'][number][] = [];
  for (let j = 0; j < keeps.length; j++) if (keeps[j]) jobs.push(formulation.jobs[j]!);
  const operations: Formulation['operations'][number][] = [];
  for (let o = 0; o < problem.operations.length; o++) {
    if (keeps[problem.operations[o]!.job]) operations.push(formulation.operations[o]!);
  }
  return {
    formulation: {
      ...formulation,
      problem: part.problem,
      jobs,
      operations,
      jobIndex: (id) => indexOf(jobs, (each) => each.job.id === id),
      operationIndex: (id, key) => indexOf(operations, (each) => each.jobId === id && each.key === key),
    },
    schedule: part.schedule,
  };
}

function indexOf<T>(list: readonly T[], isIt: (each: T) => boolean): number | undefined {
  const index = list.findIndex(isIt);
  return index < 0 ? undefined : index;
}
