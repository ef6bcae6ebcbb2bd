import { ALWAYS } from '../constraints/task.ts';
import type { TimeLags } from '../constraints/time-lag.ts';
import type { Solver } from '../learn/solver.ts';
import type { Interval } from '../problem/problem.ts';

/** A variable with an offset: an instant of the model. */
export interface Instant {
  readonly half: number;
  readonly offset: number;
}

/** `to` comes at least `gap` minutes after `from`. */
export interface Gap {
  readonly from: Instant;
  readonly to: Instant;
  readonly gap: number;
}

/** A conditional lag holds at most this many conditions; more are gathered into one Boolean. */
const MOST_CONDITIONS = 3;

/**
 * Rules in terms of Booleans and instants, written down as clauses and conditional lags. A Boolean is named by its half
 * and may be a constant; what is known when a rule is written leaves no trace in it.
 */
export class Logic {
  readonly solver: Solver;
  readonly lags: TimeLags;
  /** Made when first asked for, so that a problem without conditions has none. */
  private constants: { readonly yes: number; readonly origin: number } | undefined;
  private readonly conjunctions = new Map<string, number>();

  constructor(solver: Solver, lags: TimeLags) {
    this.solver = solver;
    this.lags = lags;
  }

  private get constant() {
    const { bounds } = this.solver;
    this.constants ??= { yes: bounds.newVariable(1, 1), origin: bounds.newVariable(0, 0) };
    return this.constants;
  }

  /** The Boolean that is true. */
  get yes(): number {
    return this.constant.yes;
  }

  get no(): number {
    return this.constant.yes ^ 1;
  }

  newInstant(min: number, max: number): Instant {
    return { half: this.solver.bounds.newVariable(min, max), offset: 0 };
  }

  isTrue(half: number): boolean {
    return this.solver.bounds.lower[half]! >= 1 - (half & 1);
  }

  isFalse(half: number): boolean {
    return this.isTrue(half ^ 1);
  }

  newBoolean(): number {
    return this.solver.bounds.newBoolean();
  }

  /** As the presence of a task. */
  presence(half: number): number {
    return this.isTrue(half) ? ALWAYS : half;
  }

  /** A constant minute. */
  minute(at: number): Instant {
    return { half: this.constant.origin, offset: at };
  }

  /** At least one of the Booleans is true. */
  some(halves: readonly number[]): void {
    this.solver.addClause(halves.flatMap((half) => [half, 1 - (half & 1)]));
  }

  /** When all the conditions are true, at least one of the consequences is. */
  implies(conditions: readonly number[], ...consequences: readonly number[]): void {
    this.some([...conditions.map((half) => half ^ 1), ...consequences]);
  }

  /** A Boolean that is true exactly when all of these are. */
  all(halves: readonly number[]): number {
    const open = [...new Set(halves)].filter((half) => !this.isTrue(half)).sort((a, b) => a - b);
    if (open.some((half) => this.isFalse(half) || open.includes(half ^ 1))) return this.no;
    if (open.length === 0) return this.yes;
    if (open.length === 1) return open[0]!;
    const key = open.join();
    let conjunction = this.conjunctions.get(key);
    if (conjunction === undefined) {
      conjunction = this.newBoolean();
      this.conjunctions.set(key, conjunction);
      this.implies(open, conjunction);
      for (const half of open) this.implies([conjunction], half);
    }
    return conjunction;
  }

  /** A Boolean that is true exactly when one of these is. */
  any(halves: readonly number[]): number {
    return this.all(halves.map((half) => half ^ 1)) ^ 1;
  }

  /** `to` comes at least `gap` minutes after `from` whenever all the conditions are true. */
  lag(from: Instant, to: Instant, gap: number, conditions: readonly number[] = []): void {
    const open = [...new Set(conditions)].filter((half) => !this.isTrue(half));
    if (open.some((half) => this.isFalse(half) || open.includes(half ^ 1))) return;
    const held = open.length <= MOST_CONDITIONS ? open : [this.all(open)];
    const least = from.offset + gap - to.offset;
    if (from.half !== to.half) this.lags.add(from.half, to.half, least, held);
    else if (least > 0) this.implies(held);
  }

  /**
   * Whenever all the conditions are true, all gaps of one of the alternatives hold. Returns, by alternative, a Boolean that
   * makes it hold.
   */
  oneOf(conditions: readonly number[], alternatives: readonly (readonly Gap[])[]): number[] {
    const condition = this.all(conditions);
    const choices = alternatives.map(() => this.yes);
    if (alternatives.length === 2) {
      choices[0] = this.newBoolean();
      choices[1] = choices[0] ^ 1;
    } else if (alternatives.length > 2) {
      for (const k of choices.keys()) choices[k] = this.newBoolean();
      this.implies([condition], ...choices);
    }
    for (const [k, gaps] of alternatives.entries()) {
      for (const { from, to, gap } of gaps) this.lag(from, to, gap, [condition, choices[k]!]);
    }
    return choices;
  }

  /** The two instants are the same whenever all the conditions are true. */
  same(one: Instant, other: Instant, conditions: readonly number[] = []): void {
    this.lag(one, other, 0, conditions);
    this.lag(other, one, 0, conditions);
  }

  /** Whenever all the conditions are true, the instant lies in one of the intervals [from, to). */
  within(at: Instant, intervals: readonly Interval[], conditions: readonly number[] = []): void {
    for (const { from, to } of gapsBetween(intervals)) this.notIn(at, at, from, to, conditions);
  }

  /** Whenever all the conditions are true, `first` lies at or after `to`, or `last` before `from`. */
  notIn(first: Instant, last: Instant, from: number, to: number, conditions: readonly number[]): void {
    this.solver.addClause([
      ...conditions.flatMap((half) => [half ^ 1, half & 1]),
      first.half,
      to - first.offset,
      last.half ^ 1,
      1 - (from - last.offset),
    ]);
  }
}

/** What lies before, between and after sorted intervals; intervals that touch count as one. */
export function gapsBetween(intervals: readonly Interval[]): Interval[] {
  const gaps: Interval[] = [];
  let from = -FAR;
  for (const interval of intervals) {
    if (interval.from > from) gaps.push({ from, to: interval.from });
    from = Math.max(from, interval.to);
  }
  gaps.push({ from, to: FAR });
  return gaps;
}

const FAR = 500_000_000;
