import type { Store } from '../store/store.ts';
import type { Instant } from '../trade/model/time.ts';
import type { Desk } from './booking/desk.ts';
import type { Drafter } from './planning/drafter.ts';
import type { Planner } from './planning/planner.ts';
import type { Replanner } from './planning/replanner.ts';
import type { Outlooks } from './promises/outlooks.ts';

/** Reads the time; injected so that a test owns it. */
export type Clock = () => Instant;

/** The part of a logger the use cases write to (pino's order: data, then words). */
export interface Log {
  info(data: object, words: string): void;
  warn(data: object, words: string): void;
  error(data: object, words: string): void;
}

/** How hard planning looks. Work is counted, so a seed repeats; wall time only interrupts. */
export interface PlanningBudget {
  /** Work units for a plan that somebody waits for. */
  readonly promptWork: number;
  /** Work units for the better plan that follows. */
  readonly thoroughWork: number;
  /** Milliseconds after which a search is interrupted. */
  readonly timeLimitMs: number;
}

/** What making a plan needs. */
export interface PlanningDeps {
  readonly store: Store;
  readonly planner: Planner;
  /** Drafts whole plans off this thread; without it they are drafted here. */
  readonly drafter?: Drafter;
  /** Answers about one more car from books held open; absent: each question is planned as a whole. */
  readonly desk?: Desk;
  /** Simulates whole plans off this thread; without it they are simulated here. */
  readonly outlooks?: Outlooks;
  readonly clock: Clock;
  /** Makes an identifier nobody has used: letters, digits, "-" and "_". */
  readonly newId: () => string;
  readonly seed: number;
  readonly budget: PlanningBudget;
  readonly log: Log;
}

/** Everything a use case needs and does not make itself. */
export interface ShopDeps extends PlanningDeps {
  /** Plans again, soon, what a fact or a change has upset. */
  readonly replanner: Replanner;
}
