import type { Problem } from '../problem/problem.ts';
import type { Nearest } from './nearest.ts';

/** Every deadline of a job's work, and the horizon with it, put off by some minutes; undefined when it has none. */
export function laterPickup(problem: Problem, job: number, minutes: number): Nearest | undefined {
  const { name } = problem.jobs[job]!;
  const isBound = problem.operations.some((operation) => operation.job === job && operation.deadline !== undefined);
  if (!isBound) return undefined;
  const operations = problem.operations.map((operation) => {
    if (operation.job !== job || operation.deadline === undefined) return operation;
    return { ...operation, deadline: operation.deadline + minutes };
  });
  const text = `Hand "${name}" back ${minutes} minutes later.`;
  return { text, relaxed: { ...problem, operations, horizon: problem.horizon + minutes } };
}
