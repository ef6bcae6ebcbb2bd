import type { Problem } from '../../../src/engine/problem/problem.ts';

/** The same shop with the first `count` jobs of its book; jobs stand in the problem one after another. */
export function firstJobs(problem: Problem, count: number): Problem {
  const operations = problem.operations.filter((operation) => operation.job < count);
  const mine = (operation: number) => operation < operations.length;
  return {
    ...problem,
    jobs: problem.jobs.slice(0, count),
    operations,
    stays: problem.stays.filter((stay) => stay.job < count),
    lags: problem.lags.filter((lag) => mine(lag.from.operation)),
    branches: problem.branches.filter((branch) => branch.alternatives.flat().every(mine)),
    sameCrew: problem.sameCrew.filter((link) => mine(link.first)),
    airSpans: problem.airSpans.filter((span) => mine(span.from.operation)),
    stills: problem.stills.filter((still) => still.job < count),
  };
}
