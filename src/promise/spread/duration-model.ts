import type { LearnedDurations, LearnedKind } from '../../trade/work-content/learned-from-floor.ts';
import type { ExecutionRules, WorkFactor } from '../simulate/simulation-input.ts';
import { daysAlone } from './day-runs.ts';
import { type DayResidual, dayVariation } from './day-variation.ts';
import { effectOf, kindPosterior } from './kind-posterior.ts';
import type { LogNormal } from './log-normal.ts';
import type { RecordedDuration } from './recorded-duration.ts';
import { recordedShape } from './recorded-shape.ts';
import { type SetAside, setAside } from './set-aside.ts';
import { commonWeights, type PriorWeights } from './trade-prior.ts';

/** However much days differ, this share of an operation's variance is its own. */
const LEAST_OWN_SHARE = 0.1;

/** What was learned, and the records that were not learned from, with why. */
export interface Lesson {
  readonly durations: LearnedDurations;
  readonly setAside: readonly SetAside[];
}

/** Learns from the floor's records, starting from the trade's prior for each kind of work. */
export function learnDurations(
  records: readonly RecordedDuration[],
  priors: ReadonlyMap<string, LogNormal>,
  weights: PriorWeights = commonWeights,
): Lesson {
  const byKind = new Map<string, RecordedDuration[]>();
  for (const record of records) {
    const known = byKind.get(record.kind);
    if (known === undefined) byKind.set(record.kind, [record]);
    else known.push(record);
  }
  const kinds = new Map<string, LearnedKind & { readonly quantiles?: readonly number[] }>();
  const aside: SetAside[] = [];
  const ofDays: DayResidual[] = [];
  for (const [kind, prior] of priors) {
    const split = setAside(byKind.get(kind) ?? [], prior, weights);
    aside.push(...split.setAside);
    const { residuals, ...posterior } = kindPosterior(split.kept, prior, weights);
    const quantiles = recordedShape(residuals);
    kinds.set(kind, quantiles === undefined ? posterior : { ...posterior, quantiles });
    for (const [r, { day }] of split.kept.entries()) {
      if (day === undefined) continue;
      ofDays.push({ day, logResidual: residuals[r]! * Math.sqrt(posterior.variance) });
    }
  }
  return { durations: { kinds, ofDay: dayVariation(ofDays) }, setAside: aside };
}

/**
 * Reads what was learned: factors on planned minutes, as they are believed. What is not known of a kind is shared luck: it errs the
 * same way in every operation of that kind (group = the kind's place among the kinds), and, where days differ, in every operation (the
 * group after them), for the days recorded may have been good ones.
 */
export class DurationModel {
  /** The log factor that all work begun on one day shares, for the simulation's rules; the factors leave it out. */
  readonly ofDays: Pick<ExecutionRules, 'dayLogDeviation' | 'dayQuantiles' | 'runs'>;
  readonly #learned: LearnedDurations;
  readonly #groups = new Map<string, number>();
  readonly #ofAllDays: readonly { readonly group: number; readonly logDeviation: number }[];
  readonly #known = new Map<string, WorkFactor>();

  constructor(learned: LearnedDurations) {
    const { kinds, ofDay } = learned;
    this.#learned = learned;
    for (const kind of kinds.keys()) this.#groups.set(kind, this.#groups.size);
    this.#ofAllDays =
      ofDay.variance > 0 ? [{ group: kinds.size, logDeviation: Math.sqrt(ofDay.variance / daysAlone(ofDay)) }] : [];
    this.ofDays = {
      dayLogDeviation: Math.sqrt(ofDay.variance),
      ...(ofDay.quantiles === undefined ? {} : { dayQuantiles: ofDay.quantiles }),
      ...(ofDay.runs === undefined ? {} : { runs: ofDay.runs }),
    };
  }

  /** The factor of one kind of work by one person under one condition. @throws RangeError for an unknown kind. */
  factorOf(kind: string, person: string | null, condition: string | null): WorkFactor {
    const asked = `${kind}\n${person ?? ''}\n${condition ?? ''}`;
    let factor = this.#known.get(asked);
    if (factor === undefined) {
      factor = this.#factor(kind, person, condition);
      this.#known.set(asked, factor);
    }
    return factor;
  }

  #factor(kind: string, person: string | null, condition: string | null): WorkFactor {
    const { kinds, ofDay } = this.#learned;
    const learned = kinds.get(kind);
    if (learned === undefined) throw new RangeError(`kind "${kind}" has no prior`);
    const { mean, variance } = effectOf(learned, person, condition);
    const { quantiles } = learned;
    return {
      logMean: mean,
      logDeviation: Math.sqrt(Math.max(learned.variance - ofDay.variance, LEAST_OWN_SHARE * learned.variance)),
      shared: [{ group: this.#groups.get(kind)!, logDeviation: Math.sqrt(variance) }, ...this.#ofAllDays],
      ...(quantiles === undefined ? {} : { quantiles }),
    };
  }
}
