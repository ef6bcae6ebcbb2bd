import type { Problem } from '../../engine/problem/problem.ts';
import type { Axis } from '../calendar/axis.ts';
import type { JobId, OperationKey, PlaceId, TechnicianId } from '../model/ids.ts';
import type { Job } from '../model/job.ts';
import type { Recipe, RecipeStep, WorkKind } from '../model/recipe.ts';
import type { Instant } from '../model/time.ts';
import type { Breakdown } from '../work-content/work-content.ts';
import type { Visit, WorkRecord } from './floor-record.ts';

/** What an operation of the problem stands for. */
export interface FormulatedOperation {
  readonly jobId: JobId;
  readonly key: OperationKey;
  readonly kind: WorkKind;
  readonly label: string;
  /** The recipe's step; null for a move. */
  readonly step: RecipeStep | null;
  readonly role: 'sequence' | 'branch' | 'remedy' | 'move';
  /** `done`: the part before an interruption or a handing over; `rest`: what was left of it. */
  readonly part: 'whole' | 'done' | 'rest';
  /** Work content at the shop's norm pace, for the crew size of the recipe: "why 3 h 40". */
  readonly breakdown: Breakdown;
  /** What the floor has recorded; absent when nothing. */
  readonly record?: WorkRecord;
  readonly state: 'planned' | 'underWay' | 'paused' | 'finished';
}

export interface FormulatedJob {
  readonly job: Job;
  readonly recipe: Recipe;
  /** Places the car has stood in before the present one, and the present one. */
  readonly visits: readonly Visit[];
  /** The operation whose start is frozen to the hour told to the customer. */
  readonly frozenDropOff?: number;
  readonly ready?: number;
  readonly handover?: number;
}

/** Something the desk should know: the plan follows the facts, but a person ought to look. */
export interface Notice {
  readonly kind:
    | 'passedOver'
    | 'lapsedWindow'
    | 'overrun'
    | 'notArrived'
    | 'unknownOperation'
    | 'unknownPlace'
    | 'personAbsent'
    | 'sameCrewImpossible'
    | 'wishNotKept';
  readonly jobId: JobId;
  readonly operation: OperationKey | null;
  readonly text: string;
}

/** A job that cannot be planned at all, with the field at fault. */
export interface LeftOut {
  readonly jobId: JobId;
  readonly field: string;
  readonly reason: string;
}

/** The engine's problem and what its indices mean. */
export interface Formulation {
  readonly problem: Problem;
  readonly axis: Axis;
  readonly now: Instant;
  /** By job index. */
  readonly jobs: readonly FormulatedJob[];
  /** By operation index. */
  readonly operations: readonly FormulatedOperation[];
  /** By place index. */
  readonly places: readonly PlaceId[];
  /** By resource index; null for equipment. */
  readonly people: readonly (TechnicianId | null)[];
  readonly pacePercent: readonly number[];
  readonly notices: readonly Notice[];
  readonly leftOut: readonly LeftOut[];
  jobIndex(jobId: JobId): number | undefined;
  operationIndex(jobId: JobId, key: string): number | undefined;
}
