import type { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import type { IntervalSet } from '../../engine/calendar/interval-set.ts';
import type { WorkCalendar } from '../../engine/calendar/work-calendar.ts';
import type { Window } from './arcs.ts';
import type { WindowBlock } from './window-blocks.ts';

/** What one node needs apart from its arcs; nulls and empty lists where nothing binds. */
export interface NodeRule {
  readonly calendar: WorkCalendar | null;
  readonly pausable: boolean;
  /** Instants at which it may start: drop-off or pickup hours. */
  readonly opening: IntervalSet | null;
  readonly allowed: IntervalSet | null;
  readonly budget: BudgetWindows | null;
  /** Hours of its people, where its own progress may run outside them. */
  readonly hours: readonly IntervalSet[];
  readonly leastFirstPiece: number;
  /** NEVER when any pause will do. */
  readonly longestPause: number;
  /** Operations whose pauses it lies in. */
  readonly clearOf: readonly number[];
  readonly pools: readonly PoolPlace[];
  readonly overtime: readonly IntervalSet[];
  /** Hours of its people, for what is worked past them. */
  readonly open: IntervalSet | null;
  readonly windowsInto: readonly Window[];
  /** Remedies that are decided when this node is due, in order. */
  readonly remedies: readonly number[];
  readonly block: WindowBlock | null;
}

/** A node's place among the users of interchangeable equipment. */
export interface PoolPlace {
  readonly units: number;
  readonly members: readonly number[];
  readonly index: number;
}

/** A class, so that all have one shape: the replay reads millions of them. */
export class NodeRules implements NodeRule {
  readonly calendar: WorkCalendar | null;
  readonly pausable: boolean;
  readonly opening: IntervalSet | null;
  readonly allowed: IntervalSet | null;
  readonly budget: BudgetWindows | null;
  readonly hours: readonly IntervalSet[];
  readonly leastFirstPiece: number;
  readonly longestPause: number;
  readonly clearOf: readonly number[];
  readonly pools: readonly PoolPlace[];
  readonly overtime: readonly IntervalSet[];
  readonly open: IntervalSet | null;
  readonly windowsInto: readonly Window[];
  readonly remedies: readonly number[];
  readonly block: WindowBlock | null;
  /** Nothing but a calendar decides when it may begin. */
  readonly plain: boolean;
  /** Some of its pauses may be too early or too long. */
  readonly limitsPauses: boolean;

  constructor(rule: NodeRule, noLimit: number) {
    this.calendar = rule.calendar;
    this.pausable = rule.pausable;
    this.opening = rule.opening;
    this.allowed = rule.allowed;
    this.budget = rule.budget;
    this.hours = rule.hours;
    this.leastFirstPiece = rule.leastFirstPiece;
    this.longestPause = rule.longestPause;
    this.clearOf = rule.clearOf;
    this.pools = rule.pools;
    this.overtime = rule.overtime;
    this.open = rule.open;
    this.windowsInto = rule.windowsInto;
    this.remedies = rule.remedies;
    this.block = rule.block;
    this.limitsPauses =
      rule.pausable && rule.calendar !== null && (rule.leastFirstPiece > 0 || rule.longestPause < noLimit);
    this.plain =
      rule.opening === null &&
      rule.allowed === null &&
      rule.budget === null &&
      rule.hours.length === 0 &&
      rule.clearOf.length === 0 &&
      !this.limitsPauses;
  }
}
