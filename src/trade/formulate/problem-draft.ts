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

/** How long each of a draft's lists is, so that what is added from here on can be taken back. */
export type DraftLengths = ReadonlyMap<unknown[], number>;

export function lengthsOf(draft: ProblemDraft): DraftLengths {
  const lengths = new Map<unknown[], number>();
  for (const list of Object.values(draft) as unknown[][]) lengths.set(list, list.length);
  return lengths;
}

export function takeBack(before: DraftLengths): void {
  for (const [list, length] of before) list.length = length;
}

export function copyOf(draft: ProblemDraft): ProblemDraft {
  const copy: Record<string, unknown[]> = {};
  for (const [name, list] of Object.entries(draft)) copy[name] = list.slice();
  return copy as unknown as ProblemDraft;
}
