/** A schedule for a problem, as plain data: what the solver returns and the checker reads. */

export interface PlannedOperation {
  readonly start: number;
  readonly end: number;
  /** Index into the operation's modes. */
  readonly mode: number;
}

export interface PlannedStay {
  readonly place: number;
  readonly from: number;
  readonly to: number;
}

export interface Schedule {
  /** By operation; null when absent. */
  readonly operations: readonly (PlannedOperation | null)[];
  /** By stay; null when absent. */
  readonly stays: readonly (PlannedStay | null)[];
}

/** One number a tier, in the order of the problem's `tiers`. */
export type Objective = readonly number[];

export type Status =
  /** Proved best in every tier. */
  | 'optimal'
  /** A schedule that obeys every rule. */
  | 'feasible'
  /** Proved that no schedule obeys every rule. */
  | 'infeasible'
  /** Nothing found and nothing proved within the budget. */
  | 'unknown';

/** A rule that takes part in a conflict, by what it is about. */
export interface ConflictPart {
  readonly kind:
    | 'lag'
    | 'operation'
    | 'stay'
    | 'resource'
    | 'place'
    | 'air'
    | 'release'
    | 'deadline'
    | 'fixed'
    | 'budget'
    | 'still'
    | 'crew'
    | 'opening'
    | 'horizon';
  /** Into the problem's array of that kind: `operation`, `release`, `deadline` and `fixed` into operations, `opening` into jobs. */
  readonly index: number;
  readonly text: string;
}

export interface Conflict {
  readonly parts: readonly ConflictPart[];
  /** True when leaving out any one part removes the conflict. */
  readonly minimal: boolean;
}

export interface Solution {
  readonly status: Status;
  readonly schedule: Schedule | null;
  readonly objective: Objective | null;
  /** A lower bound for each tier: of plans that are as good as can be in the tiers before it. */
  readonly bound: Objective;
  readonly conflict?: Conflict;
  /** Units of search work done; equal runs do equal work. */
  readonly work: number;
  /** True when wall time, not the work budget, ended the search: the result then need not repeat. */
  readonly interrupted: boolean;
}
