import type { WorkKind } from '../model/recipe.ts';

/** One finished operation: what the work content had said, and what the floor recorded, in minutes. */
export interface RecordedWork {
  readonly kind: WorkKind;
  readonly computedMinutes: number;
  readonly workedMinutes: number;
}

/** The norm weighs as much as this many records. */
const NORM_WEIGHS_RECORDS = 5;
/** A record further off than this is a tap that was forgotten, and counts only this much. */
const LARGEST_RATIO = 3;

/**
 * What the floor's records say of the norms, in percent of the computed minutes, for kinds with any records.
 *
 * Durations err by factors, so the logarithm of worked over computed is averaged, shrunk towards the norm as the
 * conjugate normal model does (Gelman et al., Bayesian Data Analysis, chapter 2: a prior worth a number of observations).
 */
export function learnedEstimates(records: readonly RecordedWork[]): Partial<Record<WorkKind, number>> {
  const sums = new Map<WorkKind, { logs: number; count: number }>();
  for (const { kind, computedMinutes, workedMinutes } of records) {
    if (!(computedMinutes > 0 && workedMinutes > 0)) continue;
    const ratio = Math.min(LARGEST_RATIO, Math.max(1 / LARGEST_RATIO, workedMinutes / computedMinutes));
    const sum = sums.get(kind) ?? { logs: 0, count: 0 };
    sums.set(kind, { logs: sum.logs + Math.log(ratio), count: sum.count + 1 });
  }
  const percents = [...sums].map(([kind, { logs, count }]) => [
    kind,
    Math.round(100 * Math.exp(logs / (count + NORM_WEIGHS_RECORDS))),
  ]);
  return Object.fromEntries(percents);
}

/** The shop's stated share of failed inspections weighs as much as this many cars. */
const STATED_WEIGHS_CARS = 20;

/**
 * Share of final inspections that fail, in percent: the stated share (common practice, 1 car in 10) until measured, then
 * more and more what was recorded. The mean of a beta distribution updated by counts.
 *
 * @throws RangeError when more failed than were inspected.
 */
export function learnedFailurePercent(statedPercent: number, failed: number, inspected: number): number {
  if (failed < 0 || failed > inspected)
    throw new RangeError(`failed is ${failed}, must be 0 to ${inspected} inspected`);
  return (statedPercent * STATED_WEIGHS_CARS + 100 * failed) / (STATED_WEIGHS_CARS + inspected);
}
