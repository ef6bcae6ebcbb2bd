import type {
  AirSpan,
  Branch,
  Lag,
  Operation,
  Job as ProblemJob,
  SameCrew,
  Stay,
  Still,
} from '../../engine/problem/problem.ts';
import type { FormulatedJob, FormulatedOperation } from './formulation.ts';

/** The lists of a problem that grow with each job. */
export interface ProblemDraft {
  readonly jobs: ProblemJob[];
  readonly operations: Operation[];
  readonly stays: Stay[];
  readonly lags: Lag[];
  readonly branches: Branch[];
  readonly sameCrew: SameCrew[];
  readonly airSpans: AirSpan[];
  readonly stills: Still[];
  readonly takenPlaces: { place: number; from: number; to: number }[];
  readonly formulatedJobs: FormulatedJob[];
  readonly formulatedOperations: FormulatedOperation[];
}

export function emptyDraft(): ProblemDraft {
  return {
    jobs: [],
    operations: [],
    stays: [],
    lags: [],
    branches: [],
    sameCrew: [],
    airSpans: [],
    stills: [],
    takenPlaces: [],
    formulatedJobs: [],
    formulatedOperations: [],
  };
}

/** Runs a part that adds to the draft; what it added is taken back when it throws. */
export function allOrNothing(draft: ProblemDraft, part: () => void): void {
  const lists = Object.values(draft) as unknown[][];
  const lengths = lists.map((list) => list.length);
  try {
    part();
  } catch (error) {
    lists.forEach((list, k) => {
      list.length = lengths[k]!;
    });
    throw error;
  }
}
