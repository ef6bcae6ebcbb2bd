import type { Mode, Problem, Progress, Tier } from '../problem/problem.ts';

const PROVABLE_TIERS: ReadonlySet<Tier> = new Set<Tier>(['broken', 'tardiness', 'lead', 'makespan']);

/** Tables of beginnings are made for calendar-bound modes; beyond this many entries the problem is too large for them. */
const MOST_TABLE_ENTRIES = 20_000_000;

/** Bounds are 32-bit; sums of minutes and weighted minutes must stay well inside. */
const LARGEST_VALUE = 1_000_000_000;

/**
 * Whether `prove` handles every feature the problem uses. It handles work on resources, modes, progresses, time lags,
 * releases, deadlines and frozen starts; not stays and places, facts, optional work, budgets, overtime or change.
 */
export function provable(problem: Problem): boolean {
  return unprovable(problem) === undefined;
}

/** The first feature outside what `prove` handles, in words, or undefined. */
export function unprovable(problem: Problem): string | undefined {
  if (problem.stays.length > 0) return 'stays';
  if (problem.branches.length > 0) return 'branches';
  if (problem.sameCrew.length > 0) return 'the same crew for two operations';
  if (problem.airSpans.length > 0) return 'air spans';
  if (problem.stills.length > 0) return 'stills';
  if (problem.tiers.some((tier) => !PROVABLE_TIERS.has(tier))) return 'tiers of overtime or change';
  if (problem.jobs.some((job) => job.pickupOpen !== undefined && job.handover !== undefined)) return 'pickup hours';
  if (problem.jobs.some((job) => job.dropOffOpen !== undefined && job.arrival !== undefined)) return 'drop-off hours';
  if (problem.lags.some((lag) => lag.remedy !== undefined)) return 'remedies';
  let entries = 0;
  for (const operation of problem.operations) {
    if (operation.presence !== 'always') return 'optional operations';
    if (operation.stay !== undefined) return 'work in a stay';
    if (operation.fixed?.by === 'fact') return 'facts';
    for (const mode of operation.modes) {
      if (mode.budget !== undefined) return 'budgets';
      if (mode.places !== undefined) return 'modes bound to places';
      if (isBoundToCalendar(problem, mode)) entries += problem.horizon;
    }
  }
  if (entries > MOST_TABLE_ENTRIES) return 'too long a horizon for its calendars';
  if (largestValue(problem) > LARGEST_VALUE) return 'objectives beyond 32 bits';
  if (!pausesFreeNobody(problem)) return 'a resource that a pause frees for other work';
  return undefined;
}

function largestValue({ jobs, horizon, lags }: Problem): number {
  const weight = jobs.reduce((sum, { promise, due }) => sum + (promise?.weight ?? 0) + (due?.weight ?? 0), 0);
  const longestLag = lags.reduce((most, { min, max }) => Math.max(most, Math.abs(min), Math.abs(max ?? 0)), 0);
  return Math.max(weight, jobs.length, 2) * horizon + longestLag;
}

export function isBoundToCalendar(problem: Problem, mode: Mode): boolean {
  return (
    mode.progress !== undefined ||
    mode.allowed !== undefined ||
    mode.uses.some((use) => use.amount > 0 && problem.resources[use.resource]!.open !== undefined)
  );
}

/**
 * Pausable work holds its resources only while it is worked on. When everything that draws on them follows one progress,
 * whatever overlaps in a pause overlaps in worked time too, and work may be taken to hold them from start to end.
 */
function pausesFreeNobody(problem: Problem): boolean {
  for (let r = 0; r < problem.resources.length; r++) {
    if (isPlenty(problem, r)) continue;
    let pausable = false;
    const followed = new Set<string>();
    for (const operation of problem.operations) {
      for (const mode of operation.modes) {
        if (mode.work === 0 || !mode.uses.some((use) => use.resource === r && use.amount > 0)) continue;
        if (operation.pausable && mode.progress !== undefined) pausable = true;
        followed.add(mode.progress === undefined ? '' : openPattern(problem.progresses[mode.progress]!));
      }
    }
    if (pausable && followed.size > 1) return false;
  }
  return true;
}

/** Whether all work could hold the resource at once, so that whatever a pause frees of it is wanted by nobody. */
function isPlenty({ operations, resources, takenResources }: Problem, resource: number): boolean {
  let asked = 0;
  for (const taken of takenResources) if (taken.resource === resource) asked += taken.amount;
  for (const { modes } of operations) {
    asked += Math.max(...modes.map(({ uses }) => uses.find((use) => use.resource === resource)?.amount ?? 0));
  }
  return asked <= resources[resource]!.capacity;
}

function openPattern({ at, rate }: Progress): string {
  return at
    .map((minute, k) => [minute, rate[k]! > 0] as const)
    .filter(([, open], k) => k === 0 || open !== rate[k - 1]! > 0)
    .map(([minute, open]) => `${minute}${open ? '+' : '-'}`)
    .join();
}
