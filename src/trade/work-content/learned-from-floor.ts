/** What is believed of the effects on one kind of work: the kind's own, then each person's, then each condition's. */
export interface LearnedKind {
  readonly records: number;
  /** Places of people and of conditions among the effects, each counted from 0. */
  readonly people: ReadonlyMap<string, number>;
  readonly conditions: ReadonlyMap<string, number>;
  /** Posterior mean of the effects on the logarithm of the computed minutes. */
  readonly mean: Float64Array;
  readonly covariance: readonly Float64Array[];
  /** Variance of one record around its effects. */
  readonly variance: number;
  /** How much people, and conditions, differ: what is believed of one without a record. Standard deviations of the logarithm. */
  readonly weights: { readonly personLogDeviation: number; readonly conditionLogDeviation: number };
}

/** Bad days come in runs: a new hand, a hot July. A day's luck is that of the run it is in, and its own. */
export interface Runs {
  /** Of the days' variance, 0 to 1. */
  readonly share: number;
  /** Correlation of a run's luck from one day to the next, 0 to 1. */
  readonly withDayBefore: number;
}

/** A run's luck in standard deviations, slow above zero, as far as it is known. */
export interface RunLuck {
  readonly luck: number;
  /** 1: nothing is known. */
  readonly variance: number;
}

/** The log factor that all work of one day shares. */
export interface DayVariation {
  /** Its variance; 0 when days do not differ, or too little is known. */
  readonly variance: number;
  /** Days it was seen on. What is learned from few days errs the same way in all work. */
  readonly days: number;
  /**
   * Its quantiles at (k + 0.5) / 33 in units of its standard deviation, around its mean: a slow month makes a tail of slow days that a
   * normal has not. Absent when too few days are known.
   */
  readonly quantiles?: readonly number[];
  /** Absent when too few days are known. */
  readonly runs?: Runs;
  /** What is believed of the run that the last day recorded was in; absent like the others. */
  readonly lately?: RunLuck & { readonly day: string };
}

/** What is believed of the durations of all kinds of work. */
export interface LearnedDurations {
  /** By kind of work, in the order of the kinds' shared luck. */
  readonly kinds: ReadonlyMap<string, LearnedKind & { readonly quantiles?: readonly number[] }>;
  readonly ofDay: DayVariation;
}

/** What the floor has taught; plain data, so that it travels to a worker with the book. */
export interface LearnedFromFloor {
  readonly durations: LearnedDurations;
  /** Probability, 0 to 1, that a final inspection fails. */
  readonly inspectionFails: number;
  /** Probability, 0 to 1, that the inspection on clean paint asks for more correction than was booked. */
  readonly scopeChanges: number;
  /** What promises given and kept ask every spread to be multiplied by. */
  readonly spreadFactor: number;
}
