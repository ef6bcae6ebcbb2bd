import type { BudgetWindows } from '../calendar/budget-windows.ts';
import type { IntervalSet } from '../calendar/interval-set.ts';
import type { WorkCalendar } from '../calendar/work-calendar.ts';
import type { Soonest } from './soonest.ts';
import type { Tails } from './tails.ts';

/** One way to do an operation, with everything it draws on resolved. */
export interface ModeModel {
  readonly work: number;
  readonly calendar: WorkCalendar;
  readonly budget: BudgetWindows | null;
  readonly resources: Int32Array;
  readonly amounts: Int32Array;
  /** By place, 1 where the mode can be done; null means anywhere. */
  readonly places: Uint8Array | null;
  readonly allowed: IntervalSet | null;
  readonly crew: number;
  /** A number that is the same for modes with the same work, rates, conditions and daily limit, whoever does them. */
  readonly pattern: number;
  /** Fewest elapsed minutes it can take. */
  readonly leastMinutes: number;
}

/** A time lag between two operations of one job: to - from >= min, and <= max unless the remedy is present. */
export interface LagModel {
  readonly index: number;
  readonly from: number;
  readonly fromEnd: boolean;
  readonly to: number;
  readonly toEnd: boolean;
  readonly min: number;
  /** NEVER when there is no maximum. */
  readonly max: number;
  readonly remedy: readonly number[];
}

/** From an edge of one operation to an edge of another, with the stage whose place it concerns. */
export interface SpanModel {
  readonly label: number;
  /** Whether it is a fact that it began. */
  readonly begun: boolean;
  readonly stage: number;
  readonly from: number;
  readonly fromEnd: boolean;
  readonly to: number;
  readonly toEnd: boolean;
}

export interface CrewModel {
  readonly first: number;
  readonly second: number;
  readonly held: boolean;
}

/** Fixed: whether and how the start is given. `open` has none, `start` a start but no mode, `pinned` both. */
export type Fixing = 'open' | 'start' | 'pinned';

export interface OperationModel {
  readonly index: number;
  readonly name: string;
  readonly stage: number;
  /** Whether it is done in its stage's stay; moves and work that needs no car are not. */
  readonly inStay: boolean;
  readonly modes: readonly ModeModel[];
  /** By crew, the indices of its modes. */
  readonly byCrew: ReadonlyMap<number, readonly number[]>;
  readonly pausable: boolean;
  readonly leastFirstPiece: number;
  readonly longestPause: number;
  readonly release: number;
  readonly deadline: number;
  readonly optional: boolean;
  /** Whether it is there or not by a branch. */
  readonly inBranch: boolean;
  readonly fixing: Fixing;
  readonly fact: boolean;
  readonly fixedStart: number;
  readonly fixedMode: number;
  readonly fixedEnd: number;
  /** Instants at which it may start: drop-off or pickup hours. */
  readonly startIn: IntervalSet | null;
  readonly lags: readonly LagModel[];
  readonly spans: readonly SpanModel[];
  readonly crews: readonly CrewModel[];
  readonly leastMinutes: number;
}

/** One stay of the job, with the operations done in it: local indices [opsFrom, opsTo), the move that begins it first. */
export interface StageModel {
  /** Index of the stay; -1 for the only stage of a job without a car. */
  readonly stay: number;
  readonly places: readonly number[];
  /** By place, a number that is the same for places which suit this stay's work in exactly the same ways. */
  readonly kinds: readonly number[];
  /** The same, but for the air of the place. */
  readonly suits: readonly number[];
  readonly optional: boolean;
  /** Local index of the move; -1 when there is none. */
  readonly move: number;
  /** Moves one of which at least the car must make after the last stay that is always there; empty when it may stay on. */
  readonly comesBy: readonly number[];
  readonly opsFrom: number;
  readonly opsTo: number;
  /** -1 when not fixed. */
  readonly fixedPlace: number;
  readonly fixedFrom: number;
  /** Whether its place may close around the car that is there. */
  readonly standsOn: boolean;
  /** Fewest minutes its always-present operations take, one tied chain after another. */
  readonly leastMinutes: number;
  /** By operation from `opsFrom` on, fewest minutes from its end to the end of what must follow it in the stay. */
  readonly tails: Int32Array;
}

/**
 * A job compiled to stand alone: its operations in the order in which they are planned, everything in local indices.
 * The order runs stage by stage, and inside a stage along the time lags.
 */
export interface JobModel {
  readonly index: number;
  readonly name: string;
  readonly operations: readonly OperationModel[];
  readonly stages: readonly StageModel[];
  readonly spans: readonly SpanModel[];
  readonly stills: readonly SpanModel[];
  readonly crews: readonly CrewModel[];
  /** Each branch's alternatives, as local indices. */
  readonly branches: readonly (readonly (readonly number[])[])[];
  /** By operation, 1 when it is there to begin with; one answer for each combination of the branches. */
  readonly combinations: readonly Uint8Array[];
  readonly lags: readonly LagModel[];
  readonly release: number;
  readonly dropOffOpen: IntervalSet | null;
  readonly pickupOpen: IntervalSet | null;
  readonly arrival: number;
  readonly handover: number;
  readonly ready: number;
  readonly promiseAt: number;
  readonly promiseWeight: number;
  readonly dueAt: number;
  readonly dueWeight: number;
  /** Whether a car of it is in the shop: some stay's arrival is a fact. */
  readonly inShop: boolean;
  /** Whether something of it is given that planning may not move. */
  readonly fixed: boolean;
  /** Of a car in the shop: how soon each operation could be done. */
  readonly soonest: Soonest | null;
  /** To the pickup, as the promise is judged: the start of the handover, or else the end of what makes the car ready. */
  readonly toPickup: Tails;
  readonly toReady: Tails;
  /** Fewest minutes from drop-off to ready, without any waiting. */
  readonly leastMinutes: number;
}
