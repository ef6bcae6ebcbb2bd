/**
 * The scheduling problem, as plain data. Everything the engine knows about a shop, and everything it
 * knows about a benchmark instance, is written in these types; the checker and the solver share them
 * and nothing else.
 *
 * Time is integer minutes on one axis that starts at 0; intervals are half-open `[from, to)`.
 * Cross-references are indices into the problem's arrays.
 *
 * Facts. A rule is judged when at least one of the things it relates is still to be decided. An operation is a fact
 * when `fixed.by` is `fact`; the arrival of a stay is a fact when `fixed.from` is given, or when the move (or the
 * `arrival` operation) that sets it is a fact. So a lag between two facts, two facts that share a person, and two
 * cars whose arrivals at one place are both facts are not judged, but every planned operation, stay and move is
 * judged against all facts. Frozen operations are judged like planned ones.
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
 *
 * Worked minutes are the minutes of [start, end) whose rate is positive; maximal runs of them are the pieces of the
 * operation, the gaps between pieces its pauses. Work greater than 0 starts in a minute of positive rate; work 0 is
 * a milestone: it ends when it starts, at any minute, and uses nothing.
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
  /** When it is there at all (shifts with authorised overtime); absent means always. Worked minutes lie inside. */
  readonly open?: readonly Interval[];
  /** The part of `open` that is authorised overtime; work in it counts in the overtime tier. */
  readonly overtime?: readonly Interval[];
}

/** A cap on worked minutes in each window: machine polishing per person and day. */
export interface Budget {
  readonly name: string;
  /** Sorted and disjoint; worked minutes outside every window are not counted. */
  readonly windows: readonly Interval[];
  /** Most worked minutes, added over all modes that draw on this budget, inside any one window. */
  readonly limit: number;
}

/**
 * A unit place: a bay, or one space of a parking place. It holds at most one car.
 *
 * A car holds a place from the start of the move that brings it there (from drop-off, when no move does) to the `to`
 * of its stay, which is its arrival at the next place. Holds of different cars at one place do not overlap, so
 * that a swap needs a free third place.
 */
export interface Place {
  readonly name: string;
  /**
   * Least minutes between one car's leaving (`to` of its stay) and another's arriving (`from` of its stay). The same
   * car returning needs none. Kept towards `takenPlaces` as towards another car.
   */
  readonly turnaround: number;
  /**
   * When a car may stand here; absent means always. A stay lies whole inside one of these; of a stay whose arrival is
   * a fact only the part from `now` on is judged, and nothing when the place is closed at `now` or the car may stand on there.
   */
  readonly open?: readonly Interval[];
  /**
   * Places that other cars may not hold while a car moves in to or out of this one: through [start, end) of a move, and
   * through the one minute that begins at a drop-off here (`from` of the first stay) or a pickup from here (`to` of the last).
   */
  readonly blockedBy: readonly number[];
  /** Air zone, or absent for the open yard. */
  readonly zone?: number;
  /** What a minute of a stay here costs in the tier `standing`, as it keeps others out; absent: nothing. */
  readonly standingCost?: number;
}

/**
 * Two kinds of air that may not meet in a zone. A span labelled `first` and a span labelled `second` in the
 * same zone may not overlap; `second` starts no earlier than `settleAfterFirst` minutes after `first` ends, and
 * `first` no earlier than `settleAfterSecond` after `second` ends. It holds between spans of one car, too, and
 * between two spans of one label when `first` equals `second`. Two spans whose beginnings are both facts are not judged.
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
  /**
   * Budget the worked minutes are drawn from. In each of its windows this one operation works its first `limit` minutes of
   * positive rate and then pauses until the window ends, however much other operations draw; its end follows from that.
   */
  readonly budget?: number;
  /** Places this mode can be done in; absent means any place of the operation's stay. A move has none. */
  readonly places?: readonly number[];
  /** One of these has from <= start and end <= to (fit conditions for coating and cure); absent means always. */
  readonly allowed?: readonly Interval[];
}

/** What has happened, or what a person froze. A fact is never judged, only what follows from it. */
export interface Fixed {
  readonly start: number;
  /** A fact always has one. A frozen start may leave the mode to the solver (a drop-off hour told to the customer). */
  readonly mode?: number;
  /** Of facts only. Actual end when finished; for work under way, the end to count with. Absent: computed from mode and start. */
  readonly end?: number;
  /** `fact`: it happened, or is under way, and no rule judges it. `frozen`: decided by a person, and checked. */
  readonly by: 'fact' | 'frozen';
}

export interface Operation {
  readonly name: string;
  readonly job: number;
  /**
   * The stay it is done in: it starts no earlier than the stay, and ends no later than the start of the move that ends
   * the stay (the stay's `to` when no move does). Absent for moves, for work that needs no car, and in plain benchmark instances.
   */
  readonly stay?: number;
  readonly modes: readonly Mode[];
  /** Unpausable work meets no minute of rate 0 (nor one in which its budget is used up) between start and end. */
  readonly pausable: boolean;
  /** Pausable work: least worked minutes before the first pause, if it pauses at all. */
  readonly leastFirstPiece?: number;
  /** Pausable work: longest single pause, in elapsed minutes. */
  readonly longestPause?: number;
  readonly release?: number;
  readonly deadline?: number;
  /**
   * `always`, or `optional`: absent unless something demands it: a lapsed maximum lag its remedy, a changed place
   * its move (`Stay.move`), a branch its group (`Branch`). Nothing else makes an optional operation present. An
   * operation with `fixed` is always present; a frozen one must still be demanded, a fact need not be.
   * One operation is demanded by one kind of thing only: a move, one branch, or the remedies of one or more lags.
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
   * present. Their own lags (written as ordinary lags) put them between `from` and `to`. A remedy is demanded when both ends
   * are present, not both facts, and to - from > max; it is absent when none of the lags that name it demands it.
   */
  readonly remedy?: readonly number[];
  /** What the lag keeps safe, when that is water on a coated surface or the customer's use of it. */
  readonly guards?: 'water-safe' | 'release-safe';
}

/**
 * A choice between alternative bundles of optional operations: exactly one bundle is present (lamps, or waiting). All
 * operations of that bundle are present, and none that only other bundles name, facts excepted. A bundle may be empty.
 */
export interface Branch {
  readonly name: string;
  readonly alternatives: readonly (readonly number[])[];
}

/**
 * The same people do both: the persons used by the two modes are the same set (equipment may differ). When `held`,
 * they are not released between the end of `first` and the start of `second`: from max(first's end, `now`) to second's start
 * each of them is in use with the amount of `first`'s mode, without pause, and inside `open`. Binds when both are present.
 */
export interface SameCrew {
  readonly first: number;
  readonly second: number;
  readonly held: boolean;
}

/**
 * The unbroken time a car holds one place. A job's stays follow one another in the order of `Job.stays`; a stay
 * starts when the car has arrived and ends when it has arrived at the next place, or has been picked up. When two
 * neighbouring stays take the same place there is no move and no turnaround between them, and the instant that
 * divides them is free. "Before" and "next" skip absent stays. When the place changes, the stay starts at the end of its
 * move, the move starts no earlier than the stay before it, and a stay without `move` cannot change the place.
 * No move is demanded into a stay whose arrival is given in `fixed.from`.
 */
export interface Stay {
  readonly job: number;
  /** Places it can take. Order is preference, for ties. */
  readonly places: readonly number[];
  /** An optional stay (waiting in the yard) may be absent; it then holds no operation. A `fixed` stay is present. */
  readonly optional: boolean;
  /** The optional move operation that brings the car here from the stay before it; absent on the first stay. */
  readonly move?: number;
  /**
   * Where the car is or was, when that is a fact; `from` is its actual arrival. Without `from` the arrival is still planned.
   * `standsOn`: the place may close around it.
   */
  readonly fixed?: { readonly place: number; readonly from?: number; readonly standsOn?: boolean };
}

/**
 * A span of one stay during which the air of its place's zone is in a state: dust from compounding, mist, open
 * coating, vapour, ignition. It runs from one edge to another; absent when either operation or the stay is absent, and
 * void when `to` is not after `from`. It need not lie inside the stay.
 */
export interface AirSpan {
  readonly label: number;
  readonly stay: number;
  readonly from: { readonly operation: number; readonly edge: Edge };
  readonly to: { readonly operation: number; readonly edge: Edge };
}

/**
 * No move, in or out, of this job's car from one edge to another (final wipe to move-safe): no move operation overlaps
 * it, and neither drop-off nor pickup lies in it. Absent when either operation is absent, void when `to` is not after
 * `from`. A move that is a fact is not judged against a still that began as a fact.
 */
export interface Still {
  readonly job: number;
  readonly from: { readonly operation: number; readonly edge: Edge };
  readonly to: { readonly operation: number; readonly edge: Edge };
}

export interface Job {
  readonly name: string;
  /** Indices into `stays`, in order. Empty for a plain benchmark instance. */
  readonly stays: readonly number[];
  /** Earliest drop-off. The first stay starts at drop-off. In a job without stays, no operation starts earlier. */
  readonly release: number;
  /**
   * Instants at which the car may be dropped off, and picked up (opening hours, arranged hours); absent: any. Pickup is
   * the start of the handover; without one, the `to` of the last stay.
   */
  readonly dropOffOpen?: readonly Interval[];
  readonly pickupOpen?: readonly Interval[];
  /** The operation, always present, that starts the moment the car is dropped off (intake); absent: the car may come earlier and wait. */
  readonly arrival?: number;
  /** The operation, always present, whose start is the arrival of the car's owner for pickup (handover). The last stay ends at its end. */
  readonly handover?: number;
  /**
   * The operation, always present, whose end makes the car ready; lead time runs from drop-off to it (without stays: from
   * the start of `arrival`; without that, from `release`).
   */
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
 * `broken`: weight of promises broken. `tardiness`: weighted minutes after the promise, plus weighted minutes after due.
 * `overtime`: worked minutes in authorised overtime, added over operations and the resources they use, whatever the amount;
 * held gaps do not count. `lead`: minutes from drop-off to ready, added over jobs. `change`: minutes by
 * which starts moved plus 60 per changed crew, against `previous`, over present operations that are no facts and
 * that `previous` has. `standing`: minutes of stays times what a minute in
 * their places costs (`Place.standingCost`). `makespan`: the last end of all operations.
 */
export type Tier = 'broken' | 'tardiness' | 'overtime' | 'lead' | 'change' | 'standing' | 'makespan';

export interface Problem {
  /** No plan runs past this minute: no operation ends, and no stay ends, later, facts excepted. */
  readonly horizon: number;
  /** Nothing that is not a fact starts before this minute: no operation, and no arrival at a place. */
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
  /**
   * Times at which a place is taken by something outside this problem (holds, cars not being planned); each counts as
   * the hold of another car. One that has begun by `now` is not judged against a stay whose arrival is a fact.
   */
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
