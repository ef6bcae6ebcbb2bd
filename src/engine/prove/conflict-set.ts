import { Attempts } from '../explain/attempts.ts';
import { reduceToConflict } from '../explain/conflict.ts';
import { operation, partsOf } from '../explain/parts.ts';
import type { Job, Problem } from '../problem/problem.ts';
import type { Conflict, ConflictPart, Status } from '../problem/solution.ts';
import { provable } from './provable.ts';
import { prove } from './prove.ts';

/** Most proofs made for one set. */
const MOST_PROOFS = 400;

export interface ConflictLimits {
  readonly seed: number;
  /** Work of all proofs together. */
  readonly workLimit: number;
  /** True when somebody wants no more proofs. */
  readonly cancelled?: () => boolean;
}

/**
 * Why a plain problem that was proved to have no plan has none: lags, releases, deadlines, frozen starts, conditions,
 * resources and the horizon that contradict one another. A part is left out only where the rest is proved to have no plan
 * still, so that the set is a proof however soon the budget ends; it is minimal when leaving out any one part was seen to
 * give a plan.
 */
export function conflictSet(problem: Problem, limits: ConflictLimits): { conflict: Conflict; work: number } {
  const apart = releasesByOperation({ ...problem, tiers: [] });
  let work = 0;
  const trySolve = (relaxed: Problem): Status => {
    const left = limits.workLimit - work;
    if (left <= 0 || limits.cancelled?.() || !provable(relaxed)) return 'unknown';
    const cancelled = limits.cancelled && { cancelled: limits.cancelled };
    const solution = prove(relaxed, { seed: limits.seed, workLimit: left, ...cancelled });
    work += solution.work;
    return solution.status;
  };
  const parts = [...partsOf(apart), ...releaseParts(apart)];
  const proved = (status: Status) => status === 'infeasible';
  const conflict = reduceToConflict(apart, parts, new Attempts(trySolve, MOST_PROOFS), proved);
  return { conflict, work };
}

/** The same problem with the release of each job written on its operations, so that each can be left out by itself. */
function releasesByOperation(problem: Problem): Problem {
  // A car's release is its drop-off's, whatever its operations do.
  const isPlain = ({ stays }: Job) => stays.length === 0;
  const operations = problem.operations.map((each) => {
    const job = problem.jobs[each.job]!;
    const release = Math.max(each.release ?? 0, isPlain(job) ? job.release : 0);
    return release > problem.now ? { ...each, release } : each;
  });
  return { ...problem, operations, jobs: problem.jobs.map((job) => (isPlain(job) ? { ...job, release: 0 } : job)) };
}

function releaseParts(problem: Problem): ConflictPart[] {
  return problem.operations.flatMap(({ release }, index): ConflictPart[] => {
    if (release === undefined || release <= problem.now) return [];
    const text = `${operation(problem, index)} starts no earlier than minute ${release}.`;
    return [{ kind: 'release', index, text }];
  });
}
