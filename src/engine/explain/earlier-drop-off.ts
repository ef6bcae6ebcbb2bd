import type { Problem } from '../problem/problem.ts';
import type { Nearest } from './nearest.ts';

/**
 * A job's drop-off brought forward by some minutes, its frozen arrival with it, but not into the past; undefined when
 * the car has arrived or could already come now.
 */
export function earlierDropOff(problem: Problem, job: number, minutes: number): Nearest | undefined {
  const { name, release, arrival } = problem.jobs[job]!;
  const fixed = arrival === undefined ? undefined : problem.operations[arrival]!.fixed;
  const hour = fixed?.start ?? release;
  if (fixed?.by === 'fact' || hour - minutes < problem.now) return undefined;
  const jobs = problem.jobs.map((other, j) =>
    j === job ? { ...other, release: Math.max(0, Math.min(release, hour - minutes)) } : other,
  );
  const operations = problem.operations.map((operation, o) => {
    if (operation.job !== job) return operation;
    const earlier =
      operation.release === undefined ? operation : { ...operation, release: Math.max(0, operation.release - minutes) };
    return o === arrival && fixed ? { ...earlier, fixed: { ...fixed, start: hour - minutes } } : earlier;
  });
  return { text: `Take "${name}" in ${minutes} minutes earlier.`, relaxed: { ...problem, jobs, operations } };
}
