import type { AirSpan, Lag, Problem, SameCrew, Still } from '../problem/problem.ts';

/** What belongs to one job, as it stands in the problem's arrays. */
export interface JobParts {
  readonly operations: number[];
  readonly lags: Lag[];
  /** By lag, its index in the problem. */
  readonly lagIndices: number[];
  readonly spans: AirSpan[];
  readonly stills: Still[];
  readonly crews: SameCrew[];
  readonly branches: (readonly (readonly number[])[])[];
}

/** Where each of the problem's arrays had ended before the jobs to compile were added; zeros for a whole problem. */
export interface Extent {
  readonly jobs: number;
  readonly operations: number;
  readonly lags: number;
  readonly branches: number;
  readonly sameCrew: number;
  readonly airSpans: number;
  readonly stills: number;
}

export const NOTHING: Extent = { jobs: 0, operations: 0, lags: 0, branches: 0, sameCrew: 0, airSpans: 0, stills: 0 };

export function extentOf(problem: Problem): Extent {
  return {
    jobs: problem.jobs.length,
    operations: problem.operations.length,
    lags: problem.lags.length,
    branches: problem.branches.length,
    sameCrew: problem.sameCrew.length,
    airSpans: problem.airSpans.length,
    stills: problem.stills.length,
  };
}

/** The parts of each job that `problem` has beyond `known`. */
export function readParts(problem: Problem, known: Extent): JobParts[] {
  const { operations, lags, airSpans, stills, sameCrew, branches } = problem;
  const parts: JobParts[] = [];
  for (let j = known.jobs; j < problem.jobs.length; j++) {
    parts.push({ operations: [], lags: [], lagIndices: [], spans: [], stills: [], crews: [], branches: [] });
  }
  for (let i = known.operations; i < operations.length; i++) parts[operations[i]!.job - known.jobs]!.operations.push(i);
  for (let i = known.lags; i < lags.length; i++) {
    const { job } = operations[lags[i]!.from.operation]!;
    if (job !== operations[lags[i]!.to.operation]!.job) {
      throw new RangeError(`lags[${i}] joins operations of two jobs; a shop's lags stay inside one job`);
    }
    parts[job - known.jobs]!.lags.push(lags[i]!);
    parts[job - known.jobs]!.lagIndices.push(i);
  }
  for (let i = known.airSpans; i < airSpans.length; i++) {
    parts[operations[airSpans[i]!.from.operation]!.job - known.jobs]!.spans.push(airSpans[i]!);
  }
  for (let i = known.stills; i < stills.length; i++) {
    parts[operations[stills[i]!.from.operation]!.job - known.jobs]!.stills.push(stills[i]!);
  }
  for (let i = known.sameCrew; i < sameCrew.length; i++) {
    parts[operations[sameCrew[i]!.first]!.job - known.jobs]!.crews.push(sameCrew[i]!);
  }
  for (let i = known.branches; i < branches.length; i++) {
    const { alternatives } = branches[i]!;
    const member = firstMember(alternatives);
    if (member >= 0) parts[operations[member]!.job - known.jobs]!.branches.push(alternatives);
  }
  return parts;
}

/** Some operation that a branch names; -1 when it names none. */
function firstMember(alternatives: readonly (readonly number[])[]): number {
  for (const alternative of alternatives) if (alternative.length > 0) return alternative[0]!;
  return -1;
}
