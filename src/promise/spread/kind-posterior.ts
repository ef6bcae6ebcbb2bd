import type { LearnedKind } from '../../trade/work-content/learned-from-floor.ts';
import type { LogNormal } from './log-normal.ts';
import { inverseOf } from './positive-definite.ts';
import { logRatio, type RecordedDuration } from './recorded-duration.ts';
import type { PriorWeights } from './trade-prior.ts';

/** What is believed of one kind of work after its records. */
export interface KindPosterior extends LearnedKind {
  /** (log ratio - its effects) / deviation, one a record. */
  readonly residuals: readonly number[];
}

/** The variance and the effects are computed in turn this often; they settle after two or three rounds. */
const ROUNDS = 4;

/**
 * Partial pooling: the log ratio of a record is normal around the sum of a kind's, a person's and a condition's effect,
 *
 *     y = b + u[person] + v[condition] + e,   e ~ N(0, s2)
 *     b ~ N(m0, s2_0 / k0),   u ~ N(0, t_u^2),   v ~ N(0, t_v^2),   s2 ~ scaled inverse chi-square(n0, s2_0)
 *
 * where m0 and s2_0 are the trade's prior. Given s2 the effects are normal with precision P = P0 + X'X / s2 and mean
 * P^-1 (P0 m + X'y / s2) (D. V. Lindley and A. F. M. Smith, "Bayes estimates for the linear model", JRSS B 34, 1972; A. Gelman
 * et al., "Bayesian Data Analysis", chapters 2, 14 and 15). s2 is set to (n0 s2_0 + E[sum of e^2]) / (n0 + n), the
 * expectation over the effects, and both are computed in turn (A. P. Dempster, N. M. Laird and D. B. Rubin, JRSS B 39, 1977).
 * With three records the prior's k0 = 5 still outweighs them; with three hundred it hardly counts.
 */
export function kindPosterior(
  records: readonly RecordedDuration[],
  prior: LogNormal,
  weights: PriorWeights,
): KindPosterior {
  const people = numbered(records.map(({ person }) => person));
  const conditions = numbered(records.map(({ condition }) => condition));
  const size = 1 + people.size + conditions.size;
  const columns = records.map(({ person, condition }) => {
    const uses = [0];
    if (person !== null) uses.push(1 + people.get(person)!);
    if (condition !== null) uses.push(1 + people.size + conditions.get(condition)!);
    return uses;
  });
  const y = records.map(logRatio);
  const priorVariance = Math.max(prior.logDeviation ** 2, 1e-6);
  const own = new Float64Array(size);
  own[0] = weights.meanRecords / priorVariance;
  own.fill(1 / weights.personLogDeviation ** 2, 1, 1 + people.size);
  own.fill(1 / weights.conditionLogDeviation ** 2, 1 + people.size);
  let variance = priorVariance;
  let mean = new Float64Array(size);
  let covariance: Float64Array[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const precision = Array.from({ length: size }, (_, row) => {
      const values = new Float64Array(size);
      values[row] = own[row]!;
      return values;
    });
    const weighted = new Float64Array(size);
    weighted[0] = own[0]! * prior.logMean;
    for (const [r, uses] of columns.entries()) {
      for (const a of uses) {
        weighted[a] = weighted[a]! + y[r]! / variance;
        for (const b of uses) precision[a]![b] = precision[a]![b]! + 1 / variance;
      }
    }
    covariance = inverseOf(precision);
    mean = Float64Array.from(covariance, (row) => row.reduce((sum, value, k) => sum + value * weighted[k]!, 0));
    let squares = 0;
    for (const [r, uses] of columns.entries()) {
      squares += (y[r]! - sumOver(mean, uses)) ** 2 + varianceOver(covariance, uses);
    }
    variance = (weights.spreadRecords * priorVariance + squares) / (weights.spreadRecords + records.length);
  }
  const deviation = Math.sqrt(variance);
  const residuals = columns.map((uses, r) => (y[r]! - sumOver(mean, uses)) / deviation);
  const { personLogDeviation, conditionLogDeviation } = weights;
  return {
    records: records.length,
    people,
    conditions,
    mean,
    covariance,
    variance,
    residuals,
    weights: { personLogDeviation, conditionLogDeviation },
  };
}

/** Mean and variance of the effects that one person under one condition has; somebody unknown is like anybody. */
export function effectOf(
  learned: LearnedKind,
  person: string | null,
  condition: string | null,
): { readonly mean: number; readonly variance: number } {
  const { people, conditions, mean, covariance, weights } = learned;
  const uses = [0];
  let unknown = 0;
  const someone = person === null ? undefined : people.get(person);
  if (someone !== undefined) uses.push(1 + someone);
  else if (person !== null) unknown += weights.personLogDeviation ** 2;
  const known = condition === null ? undefined : conditions.get(condition);
  if (known !== undefined) uses.push(1 + people.size + known);
  else if (condition !== null) unknown += weights.conditionLogDeviation ** 2;
  return { mean: sumOver(mean, uses), variance: varianceOver(covariance, uses) + unknown };
}

function numbered(keys: readonly (string | null)[]): Map<string, number> {
  const known = [...new Set(keys.filter((key) => key !== null))].sort();
  return new Map(known.map((key, index) => [key, index]));
}

function sumOver(values: Float64Array, uses: readonly number[]): number {
  let sum = 0;
  for (const k of uses) sum += values[k]!;
  return sum;
}

function varianceOver(covariance: readonly Float64Array[], uses: readonly number[]): number {
  let variance = 0;
  for (const a of uses) for (const b of uses) variance += covariance[a]![b]!;
  return variance;
}
