import type { WorkFactor } from '../simulate/simulation-input.ts';
import { type DayResidual, dayVariation } from './day-variation.ts';
import { effectOf, type KindPosterior, kindPosterior } from './kind-posterior.ts';
import type { LogNormal } from './log-normal.ts';
import type { RecordedDuration } from './recorded-duration.ts';
import { recordedShape } from './recorded-shape.ts';
import { type SetAside, setAside } from './set-aside.ts';
import { commonWeights, type PriorWeights } from './trade-prior.ts';

/** However much days differ, this share of an operation's variance is its own. */
const LEAST_OWN_SHARE = 0.1;

/** What is believed of the durations of all kinds of work. */
export interface DurationModel {
  /** The factor on planned minutes of one kind of work by one person under one condition. @throws RangeError for an unknown kind. */
  factorOf(kind: string, person: string | null, condition: string | null): WorkFactor;
  /**
   * Standard deviation of the log factor that all work begun on one day shares, for the simulation's rules; the factors leave
   * it out.
   */
  readonly dayLogDeviation: number;
  /** Records that were not learned from, and why. */
  readonly setAside: readonly SetAside[];
  /** By kind. */
  readonly posteriors: ReadonlyMap<string, KindPosterior>;
}

/**
 * Learns from the floor's records, starting from the trade's prior for each kind of work. What is not known of a kind
 * is shared luck: it errs the same way in every operation of that kind (group = the kind's place among the priors), and, where
 * days differ, in every operation (the group after them), for the days recorded may have been good ones.
 */
export function durationModel(
  records: readonly RecordedDuration[],
  priors: ReadonlyMap<string, LogNormal>,
  weights: PriorWeights = commonWeights,
): DurationModel {
  const byKind = new Map<string, RecordedDuration[]>();
  for (const record of records) {
    const known = byKind.get(record.kind);
    if (known === undefined) byKind.set(record.kind, [record]);
    else known.push(record);
  }
  const posteriors = new Map<string, KindPosterior>();
  const shapes = new Map<string, readonly number[] | undefined>();
  const aside: SetAside[] = [];
  const ofDays: DayResidual[] = [];
  for (const [kind, prior] of priors) {
    const split = setAside(byKind.get(kind) ?? [], prior, weights);
    aside.push(...split.setAside);
    const posterior = kindPosterior(split.kept, prior, weights);
    posteriors.set(kind, posterior);
    shapes.set(kind, recordedShape(posterior.residuals));
    for (const [r, { day }] of split.kept.entries()) {
      if (day === undefined) continue;
      ofDays.push({ day, logResidual: posterior.residuals[r]! * Math.sqrt(posterior.variance) });
    }
  }
  const ofDay = dayVariation(ofDays);
  const groups = new Map([...priors.keys()].map((kind, index) => [kind, index]));
  return {
    dayLogDeviation: Math.sqrt(ofDay.variance),
    setAside: aside,
    posteriors,
    factorOf: (kind, person, condition) => {
      const posterior = posteriors.get(kind);
      if (posterior === undefined) throw new RangeError(`kind "${kind}" has no prior`);
      const { mean, variance } = effectOf(posterior, person, condition);
      const quantiles = shapes.get(kind);
      return {
        logMean: mean,
        logDeviation: Math.sqrt(Math.max(posterior.variance - ofDay.variance, LEAST_OWN_SHARE * posterior.variance)),
        shared: [
          { group: groups.get(kind)!, logDeviation: Math.sqrt(variance) },
          ...(ofDay.variance > 0 ? [{ group: groups.size, logDeviation: Math.sqrt(ofDay.variance / ofDay.days) }] : []),
        ],
        ...(quantiles === undefined ? {} : { quantiles }),
      };
    },
  };
}
