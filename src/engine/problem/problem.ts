/**
 * The scheduling problem, as plain data. Everything the engine knows about a shop, and everything it
 * knows about a benchmark instance, is written in these types; the checker and the solver share them
 * and nothing else.
 *
 * Time is integer minutes on one axis that starts at 0; intervals are half-open `[from, to)`.
 * Cross-references are indices into the problem's arrays.
 */

export interface Interval {
  readonly from: number;
  readonly to: number;
}

/**
 * A piecewise-constant rate, in units of work per elapsed minute. `rate[k]` holds on
 * `[at[k], at[k + 1])`, the last one for ever; before `at[0]` the rate is 0. Rates are non-negative integers.
 *
 * The progress function is P(t) = the sum of rate over [0, t); work that starts at s ends at the earliest
 * t >= s with P(t) - P(s) >= work. A crew's shifts are rates of 0 and 1; a cure that depends on the weather is
 * a rate in thousandths of the data sheet's nominal speed.
 */
export interface Progress {
  readonly at: readonly number[];
  readonly rate: readonly number[];
}

/** Something of which an amount is in use while work is in progress: a person, a lamp, the compressor. */
export interface Resource {
  readonly name: string;
  /** Amount there is. A person has 100: hands-on work takes 100, watching takes the stated share. */
  readonly capacity: number;
  /** A person, whose work must lie in `open`; or equipment, which a pause also frees. */
  readonly kind: 'person' | 'equipment';
  /** When it is there at all (shifts with authorised overtime); absent means always. */
  readonly open?: readonly Interval[];
  /** The part of `open` that is authorised overtime; work in it counts in the overtime tier. */
  readonly overtime?: readonly Interval[];
}

/** A cap on worked minutes in each window: machine polishing per person and day. */
export interface Budget {
  readonly name: string;
  readonly windows: readonly Interval[];
  /** Most worked minutes, added over all modes that draw on this budget, inside any one window. */
  readonly limit: number;
}

/** A unit place: a bay, or one space of a parking place. It holds at most one car. */
export interface Place {
  readonly name: string;
  /** Least minutes between one car's leaving and another's arriving. The same car returning needs none. */
  readonly turnaround: number;
  /** When a car may stand here; absent means always. A stay lies whole inside one of these. */
  readonly open?: readonly Interval[];
  /** Places that must be empty of other cars while a car moves in to or out of this one. */
  readonly blockedBy: readonly number[];
  /** Air zone, or absent for the open yard. */
  readonly zone?: number;
}

/**
 * Two kinds of air that may not meet in a zone. A span labelled `first` and a span labelled `second` in the
 * same zone may not overlap; `second` starts no earlier than `settleAfterFirst` minutes after `first` ends, and
 * `first` no earlier than `settleAfterSecond` after `second` ends.
 */
export interface AirExclusion {
  readonly zone: number;
  readonly first: number;
  readonly second: number;
  readonly settleAfterFirst: number;
  readonly settleAfterSecond: number;
}

export type Edge = 'start' | 'end';

/** One way to do an operation. */
export interface Mode {
  /** Work content in units of `progress`. 0 is a milestone. */
  readonly work: number;
  /** Index into `progresses`; absent means one unit a minute, always. */
  readonly progress?: number;
  /** Held while work is in progress (not in pauses). */
  readonly uses: readonly { readonly resource: number; readonly amount: number }[];
  /** Budget the worked minutes are drawn from; in each of its windows this one operation accrues at most the limit. */
  readonly budget?: number;
  /** Places this mode can be done in; absent means any place of the operation's stay. */
  readonly places?: readonly number[];
  /** The whole of [start, end) lies inside one of these (fit conditions for coating and cure); absent means always. */
  readonly allowed?: readonly Interval[];
}

/** What has happened, or what a person froze. A fact is never judged, only what follows from it. */
export interface Fixed {
  readonly start: number;
  /** A fact always has one. A frozen start may leave the mode to the solver (a drop-off hour told to the customer). */
  readonly mode?: number;
  /** Actual end when finished; for work under way, the end to count with. Absent: computed from mode and start. */
  readonly end?: number;
  /** `fact`: it happened, or is under way, and no rule judges it. `frozen`: decided by a person, and checked. */
  readonly by: 'fact' | 'frozen';
}

export interface Operation {
  readonly name: string;
  readonly job: number;
  /** The stay it is done in; absent for work that needs no car (and for plain benchmark instances). */
  readonly stay?: number;
  readonly modes: readonly Mode[];
  /** Unpausable work meets no minute of rate 0 between start and end. */
  readonly pausable: boolean;
  /** Pausable work: least worked minutes before the first pause. */
  readonly leastFirstPiece?: number;
  /** Pausable work: longest single pause, in elapsed minutes. */
  readonly longestPause?: number;
  readonly release?: number;
  readonly deadline?: number;
  /**
   * `always`, or `optional`: absent unless something demands it: a lapsed maximum lag its remedy, a changed place
   * its move (`Stay.move`), a branch its group (`Branch`). Nothing else makes an optional operation present.
   */
  readonly presence: 'always' | 'optional';
  readonly fixed?: Fixed;
}

/**
 * Generalised precedence between edges of two operations: to - from >= min and, if `max` is given,
 * to - from <= max, in elapsed minutes. It binds only when both operations are present.
 */
export interface Lag {
  readonly from: { readonly operation: number; readonly edge: Edge };
  readonly to: { readonly operation: number; readonly edge: Edge };
  readonly min: number;
  readonly max?: number;
  /**
   * Optional operations, in order, that make good a lapsed `max`: the maximum need not hold when all of them are
   * present. Their own lags (written as ordinary lags) put them between `from` and `to`.
   */
  readonly remedy?: readonly number[];
}

/** A choice between alternative bundles of optional operations: exactly one bundle is present (lamps, or waiting). */
export interface Branch {
  readonly name: string;
  readonly alternatives: readonly (readonly number[])[];
}

/** The same people do both; when `held`, they are not released between the end of `first` and the start of `second`. */
export interface SameCrew {
  readonly first: number;
  readonly second: number;
  readonly held: boolean;
}

/**
 * The unbroken time a car holds one place. A job's stays follow one another in the order of `Job.stays`; a stay
 * starts when the car has arrived and ends when it has arrived at the next place, or has been picked up. When two
 * neighbouring stays take the same place there is no move and no turnaround between them.
 */
export interface Stay {
  readonly job: number;
  /** Places it can take. Order is preference, for ties. */
  readonly places: readonly number[];
  /** An optional stay (waiting in the yard) may be absent; it then holds no operation. */
  readonly optional: boolean;
  /** The optional move operation that brings the car here from the stay before it; absent on the first stay. */
  readonly move?: number;
  /** Where the car is or was, when that is a fact; `from` is its actual arrival. */
  readonly fixed?: { readonly place: number; readonly from?: number };
}

/**
 * A span of one stay during which the air of its place's zone is in a state: dust from compounding, mist, open
 * coating, vapour, ignition. It runs from one edge to another; absent when either operation is absent.
 */
export interface AirSpan {
  readonly label: number;
  readonly stay: number;
  readonly from: { readonly operation: number; readonly edge: Edge };
  readonly to: { readonly operation: number; readonly edge: Edge };
}

/** No move, in or out, of this job's car from one edge to another (final wipe to move-safe). */
export interface Still {
  readonly job: number;
  readonly from: { readonly operation: number; readonly edge: Edge };
  readonly to: { readonly operation: number; readonly edge: Edge };
}

export interface Job {
  readonly name: string;
  /** Indices into `stays`, in order. Empty for a plain benchmark instance. */
  readonly stays: readonly number[];
  /** Earliest drop-off. The first stay starts at drop-off. */
  readonly release: number;
  /** Instants at which the car may be dropped off, and picked up (opening hours, arranged hours); absent: any. */
  readonly dropOffOpen?: readonly Interval[];
  readonly pickupOpen?: readonly Interval[];
  /** The operation that starts the moment the car is dropped off (intake); absent: the car may come earlier and wait. */
  readonly arrival?: number;
  /** The operation whose start is the arrival of the car's owner for pickup (handover). The last stay ends at its end. */
  readonly handover?: number;
  /** The operation whose end makes the car ready; lead time runs from drop-off to it. */
  readonly ready?: number;
  /** Promised pickup: broken when handover (or, without one, ready's end) starts later. */
  readonly promise?: { readonly at: number; readonly weight: number };
  /** Wanted but not promised; counts in weighted tardiness only. */
  readonly due?: { readonly at: number; readonly weight: number };
}

/** What the last plan said, for the change tier. */
export interface Previous {
  readonly operations: readonly ({ readonly start: number; readonly mode: number } | null)[];
}

/**
 * Tiers, most important first; each is an integer to be made least before the next is looked at.
 * `broken`: weight of promises broken. `tardiness`: weighted minutes after promise or due. `overtime`: worked
 * minutes in authorised overtime. `lead`: minutes from drop-off to ready, added over jobs. `change`: minutes by
 * which starts moved plus 60 per changed crew, against `previous`. `makespan`: the last end of all.
 */
export type Tier = 'broken' | 'tardiness' | 'overtime' | 'lead' | 'change' | 'makespan';

export interface Problem {
  /** No plan runs past this minute. */
  readonly horizon: number;
  /** Nothing that is not a fact starts before this minute. */
  readonly now: number;
  readonly progresses: readonly Progress[];
  readonly resources: readonly Resource[];
  readonly budgets: readonly Budget[];
  readonly places: readonly Place[];
  /** Names of the air zones, and of the labels that spans put on their air. */
  readonly zones: readonly string[];
  readonly airLabels: readonly string[];
  readonly airExclusions: readonly AirExclusion[];
  readonly jobs: readonly Job[];
  readonly operations: readonly Operation[];
  readonly stays: readonly Stay[];
  readonly lags: readonly Lag[];
  readonly branches: readonly Branch[];
  readonly sameCrew: readonly SameCrew[];
  readonly airSpans: readonly AirSpan[];
  readonly stills: readonly Still[];
  /** Times at which a place is taken by something outside this problem (holds, cars not being planned). */
  readonly takenPlaces: readonly { readonly place: number; readonly from: number; readonly to: number }[];
  /** Amounts of resources taken by something outside this problem. */
  readonly takenResources: readonly {
    readonly resource: number;
    readonly amount: number;
    readonly from: number;
    readonly to: number;
  }[];
  readonly previous?: Previous;
  readonly tiers: readonly Tier[];
}
