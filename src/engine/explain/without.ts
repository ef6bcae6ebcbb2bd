import type { Mode, Operation, Problem } from '../problem/problem.ts';
import type { ConflictPart } from '../problem/solution.ts';
import { withoutPlaces } from './without-places.ts';

/** Enough of anything for any shop, and far from the range in which sums lose whole numbers. */
const PLENTY = 2 ** 24;
/** What a plan may run longer when the horizon is left out: four weeks. */
const MORE_HORIZON = 4 * 7 * 1440;

/** The problem without some of its parts. What has happened stays as it is. */
export function without(problem: Problem, parts: readonly ConflictPart[]): Problem {
  const left = new Map<ConflictPart['kind'], Set<number>>();
  for (const { kind, index } of parts) {
    const indices = left.get(kind) ?? new Set<number>();
    left.set(kind, indices.add(index));
  }
  const isLeftOut = (kind: ConflictPart['kind'], index: number) => left.get(kind)?.has(index) ?? false;
  const leftResources = left.get('resource') ?? new Set<number>();
  const relaxed: Problem = {
    ...problem,
    horizon: isLeftOut('horizon', 0) ? problem.horizon + MORE_HORIZON : problem.horizon,
    lags: problem.lags.filter((_, k) => !isLeftOut('lag', k)),
    stills: problem.stills.filter((_, k) => !isLeftOut('still', k)),
    airExclusions: problem.airExclusions.filter((_, k) => !isLeftOut('air', k)),
    sameCrew: problem.sameCrew.filter((_, k) => !isLeftOut('crew', k)),
    budgets: problem.budgets.map((budget, k) => (isLeftOut('budget', k) ? { ...budget, limit: PLENTY } : budget)),
    resources: problem.resources.map((resource, k) => {
      if (!leftResources.has(k)) return resource;
      const { open: _, ...always } = resource;
      return { ...always, capacity: PLENTY };
    }),
    takenResources: problem.takenResources.filter(({ resource }) => !leftResources.has(resource)),
    jobs: problem.jobs.map((job, k) => {
      if (!isLeftOut('opening', k)) return job;
      const { dropOffOpen: _, pickupOpen: __, ...anyTime } = job;
      return anyTime;
    }),
    operations: problem.operations.map((operation, o) => {
      let changed: Operation = operation;
      if (isLeftOut('release', o)) {
        const { release: _, ...atOnce } = changed;
        changed = atOnce;
      }
      if (isLeftOut('deadline', o)) {
        const { deadline: _, ...open } = changed;
        changed = open;
      }
      if (isLeftOut('fixed', o) && changed.fixed?.by === 'frozen') {
        const { fixed: _, ...free } = changed;
        changed = free;
      }
      if (!isLeftOut('operation', o) && leftResources.size === 0) return changed;
      const modes = changed.modes.map((mode) =>
        withoutHours(problem, withoutConditions(mode, isLeftOut('operation', o)), leftResources),
      );
      return changed.fixed?.by === 'fact' ? changed : { ...changed, modes };
    }),
  };
  return withoutPlaces(relaxed, left.get('place') ?? new Set());
}

function withoutConditions(mode: Mode, leaveOut: boolean): Mode {
  if (!leaveOut) return mode;
  const { allowed: _, ...always } = mode;
  return always;
}

/** Hours of a crew are hours of each person in it: they go when one whose hours are left out is the whole crew. */
function withoutHours(problem: Problem, mode: Mode, resources: ReadonlySet<number>): Mode {
  if (mode.progress === undefined || mode.uses.length === 0) return mode;
  const crew = mode.uses.filter(({ resource }) => problem.resources[resource]!.kind === 'person');
  const isShifts = problem.progresses[mode.progress]!.rate.every((rate) => rate <= 1);
  if (!isShifts || crew.length === 0 || !crew.every(({ resource }) => resources.has(resource))) return mode;
  const { progress: _, ...always } = mode;
  return always;
}
