import type { Job, Mode, Operation, Problem, Tier } from '../problem/problem.ts';
import { endOfFact, isFact } from './facts.ts';
import { pausesFreeNobody } from './pauses.ts';

const PLAIN_TIERS: ReadonlySet<Tier> = new Set<Tier>(['broken', 'tardiness', 'lead', 'makespan']);

/** Tables of beginnings are made for calendar-bound modes; beyond this many entries the problem is too large for them. */
const MOST_TABLE_ENTRIES = 40_000_000;

/** Bounds are 32-bit; sums of minutes and weighted minutes must stay well inside. */
const LARGEST_VALUE = 1_000_000_000;

/**
 * Whether `prove` can reason about the problem. It knows every rule; a few ways in which facts or marks can be combined
 * are left out, and problems too large for its tables.
 */
export function provable(problem: Problem): boolean {
  return unprovable(problem) === undefined;
}

/**
 * Whether the problem is work on resources, modes, progresses, time lags, releases, deadlines and frozen starts alone, as
 * public instances are: nothing optional, no cars, nothing that has happened.
 */
export function isPlain(problem: Problem): boolean {
  const { stays, branches, sameCrew, airSpans, stills, tiers, jobs, lags, operations, resources } = problem;
  if (stays.length + branches.length + sameCrew.length + airSpans.length + stills.length > 0) return false;
  if (!tiers.every((tier) => PLAIN_TIERS.has(tier)) || lags.some(({ remedy }) => remedy !== undefined)) return false;
  if (jobs.some(({ pickupOpen, handover }) => pickupOpen !== undefined && handover !== undefined)) return false;
  if (jobs.some(({ dropOffOpen, arrival }) => dropOffOpen !== undefined && arrival !== undefined)) return false;
  const isOrdinary = ({ presence, stay, fixed, modes }: Operation) =>
    presence === 'always' &&
    stay === undefined &&
    fixed?.by !== 'fact' &&
    modes.every(({ budget, places }) => budget === undefined && places === undefined);
  return operations.every(isOrdinary) && resources.every((_, r) => pausesFreeNobody(problem, r));
}

/** The first thing that is outside what `prove` handles, in words, or undefined. */
export function unprovable(problem: Problem): string | undefined {
  for (const job of problem.jobs) {
    const outside = unprovableVisit(problem, job);
    if (outside !== undefined) return outside;
  }
  let entries = 0;
  const tables = new Set<string>();
  for (const [o, operation] of problem.operations.entries()) {
    if (isFact(problem, o)) {
      if (endOfFact(problem, o) === undefined) return 'work under way that its hours never let end';
      continue;
    }
    for (const mode of operation.modes) {
      if (mode.budget !== undefined && hasSeveralRates(problem, mode)) return 'a budget of work at several speeds';
      if (!isBoundToCalendar(problem, mode)) continue;
      const key = spanKey(problem, operation, mode);
      if (!tables.has(key)) entries += problem.horizon;
      tables.add(key);
    }
  }
  for (const { held, first, second } of problem.sameCrew) {
    const milestone = [first, second].some((o) => problem.operations[o]!.modes.some(({ work }) => work === 0));
    if (held && milestone) return 'people held between milestones';
  }
  if (entries > MOST_TABLE_ENTRIES) return 'too long a horizon for its calendars';
  if (largestValue(problem) > LARGEST_VALUE) return 'objectives beyond 32 bits';
  return undefined;
}

/** Of a car: it is always somewhere, and what has happened of its visit comes before what is planned. */
function unprovableVisit(problem: Problem, { stays, arrival }: Job): string | undefined {
  if (stays.length === 0) return undefined;
  const isSure = stays.map((s) => !problem.stays[s]!.optional || problem.stays[s]!.fixed !== undefined);
  if (!isSure.includes(true)) return 'a car that may be nowhere';
  if (arrival !== undefined && isFact(problem, arrival) && !isSure[0]) return 'a car that arrived nobody knows where';
  let planned = false;
  for (const [k, s] of stays.entries()) {
    const { fixed, move } = problem.stays[s]!;
    const movedAsFact = move !== undefined && isFact(problem, move);
    if (movedAsFact && !(isSure[k] && isSure.slice(0, k).includes(true))) return 'a move that led nowhere';
    const isFactStay =
      fixed?.from !== undefined || movedAsFact || (k === 0 && arrival !== undefined && isFact(problem, arrival));
    if (isFactStay && planned) return 'a car that arrived before it left';
    planned ||= !isFactStay && isSure[k]!;
  }
  return undefined;
}

function hasSeveralRates(problem: Problem, { progress }: Mode): boolean {
  if (progress === undefined) return false;
  return new Set(problem.progresses[progress]!.rate.filter((rate) => rate > 0)).size > 1;
}

function largestValue({ jobs, horizon, lags, operations, places }: Problem): number {
  const weight = jobs.reduce((sum, { promise, due }) => sum + (promise?.weight ?? 0) + (due?.weight ?? 0), 0);
  const longestLag = lags.reduce((most, { min, max }) => Math.max(most, Math.abs(min), Math.abs(max ?? 0)), 0);
  const standing = jobs.length * places.reduce((most, { standingCost = 0 }) => Math.max(most, standingCost), 0);
  return Math.max(weight, standing, jobs.length, operations.length, 2) * horizon + longestLag;
}

export function isBoundToCalendar(problem: Problem, mode: Mode): boolean {
  return (
    mode.progress !== undefined ||
    mode.allowed !== undefined ||
    (mode.budget !== undefined && mode.work > 0) ||
    hasHours(problem, mode)
  );
}

function hasHours(problem: Problem, { uses }: Mode): boolean {
  return uses.some((use) => use.amount > 0 && problem.resources[use.resource]!.open !== undefined);
}

/** Modes with one key begin and end at the same minutes. */
export function spanKey(problem: Problem, operation: Operation, mode: Mode): string {
  const { work, progress, budget, allowed, uses } = mode;
  const { pausable, leastFirstPiece, longestPause } = operation;
  const hours = uses
    .filter((use) => use.amount > 0 && problem.resources[use.resource]!.open !== undefined)
    .map((use) => use.resource)
    .sort((a, b) => a - b);
  const conditions = allowed?.map(({ from, to }) => `${from}-${to}`).join();
  const rules = pausable ? `p${leastFirstPiece ?? ''}-${longestPause ?? ''}` : '';
  return `${work}/${progress ?? ''}/${budget ?? ''}/${hours.join()}/${conditions ?? ''}/${rules}`;
}
