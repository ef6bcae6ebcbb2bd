import type { LogNormal } from './log-normal.ts';
import { logRatio, type RecordedDuration } from './recorded-duration.ts';
import type { PriorWeights } from './trade-prior.ts';

/** A record that is not believed, for the desk to look at. */
export interface SetAside {
  readonly record: RecordedDuration;
  /** `tooLong`: finish was probably pressed late. `tooShort`: start and finish were pressed together. `unusable`: no minutes. */
  readonly reason: 'tooLong' | 'tooShort' | 'unusable';
  /** How far off it is, in robust standard deviations of the logarithm. */
  readonly distance: number;
}

/** Beyond this many robust deviations a record is set aside: B. Iglewicz and D. Hoaglin, "How to Detect and Handle Outliers" (1993). */
const FARTHEST = 3.5;
/** With fewer records of a kind, distance is measured from the trade's prior instead of from each other. */
const FEWEST_TO_COMPARE = 8;
/** Makes the median of absolute deviations estimate a normal's standard deviation (F. R. Hampel, JASA 69, 1974). */
const NORMAL_MAD = 1.4826;

/** Splits records of one kind of work into those to learn from and those to look at; nothing is dropped silently. */
export function setAside(
  records: readonly RecordedDuration[],
  prior: LogNormal,
  weights: PriorWeights,
): { readonly kept: readonly RecordedDuration[]; readonly setAside: readonly SetAside[] } {
  const usable = records.filter(({ plannedMinutes, workedMinutes }) => plannedMinutes > 0 && workedMinutes > 0);
  const { centre, deviation } = scaleOf(usable, prior, weights);
  const kept: RecordedDuration[] = [];
  const aside: SetAside[] = records
    .filter((record) => !usable.includes(record))
    .map((record) => ({ record, reason: 'unusable', distance: Number.POSITIVE_INFINITY }));
  for (const record of usable) {
    const distance = (logRatio(record) - centre) / deviation;
    if (Math.abs(distance) <= FARTHEST) kept.push(record);
    else aside.push({ record, reason: distance > 0 ? 'tooLong' : 'tooShort', distance: Math.abs(distance) });
  }
  return { kept, setAside: aside };
}

function scaleOf(records: readonly RecordedDuration[], prior: LogNormal, weights: PriorWeights) {
  const ofPrior = Math.sqrt(
    prior.logDeviation ** 2 * (1 + 1 / weights.meanRecords) +
      weights.personLogDeviation ** 2 +
      weights.conditionLogDeviation ** 2,
  );
  if (records.length < FEWEST_TO_COMPARE) return { centre: prior.logMean, deviation: ofPrior };
  const centre = median(records.map(logRatio));
  const spread = NORMAL_MAD * median(records.map((record) => Math.abs(logRatio(record) - centre)));
  // Records that happen to agree closely do not make an ordinary one suspicious.
  return { centre, deviation: Math.max(spread, ofPrior / 2) };
}

function median(values: readonly number[]): number {
  const ascending = [...values].sort((a, b) => a - b);
  const middle = ascending.length >> 1;
  return ascending.length % 2 === 1 ? ascending[middle]! : (ascending[middle - 1]! + ascending[middle]!) / 2;
}
