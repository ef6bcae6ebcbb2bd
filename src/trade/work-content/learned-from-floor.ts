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

/** What is believed of the durations of all kinds of work. */
export interface LearnedDurations {
  /** By kind of work, in the order of the kinds' shared luck. */
  readonly kinds: ReadonlyMap<string, LearnedKind & { readonly quantiles?: readonly number[] }>;
  /** The log factor that all work of one day shares: its variance, the days it was seen on, how they lie and follow each other. */
  readonly ofDay: {
    readonly variance: number;
    readonly days: number;
    readonly quantiles?: readonly number[];
    readonly runs?: { readonly share: number; readonly withDayBefore: number };
    readonly lately?: { readonly day: string; readonly luck: number; readonly variance: number };
  };
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
