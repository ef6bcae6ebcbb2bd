import type { Book } from '../../trade/formulate/book.ts';
import type { JobId, OperationKey, PlaceId, TechnicianId } from '../../trade/model/ids.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';

/** Where, when and by whom a plan has an operation done. */
export interface Position {
  readonly start: Instant;
  readonly placeId: PlaceId | null;
  readonly people: readonly TechnicianId[];
}

/** An operation that another plan has elsewhere, at another time or in other hands. */
export interface MovedWork {
  readonly jobId: JobId;
  readonly car: string;
  readonly operation: OperationKey;
  readonly label: string;
  readonly before: Position;
  readonly after: Position;
  /** Minutes by which it starts later; negative when sooner. */
  readonly laterMinutes: number;
}

/** What becomes of one car's pickup. */
export interface PickupChange {
  readonly jobId: JobId;
  readonly car: string;
  /** Null when none was promised. */
  readonly promisedPickupAt: Instant | null;
  readonly readyAtBefore: Instant;
  readonly readyAtAfter: Instant;
  readonly lateMinutesBefore: number;
  readonly lateMinutesAfter: number;
  /** A promise that would be kept as things are and broken after, or broken by more. */
  readonly broken: boolean;
}

export interface PlanChanges {
  /** Operations that move, the soonest first. */
  readonly moves: readonly MovedWork[];
  /** Cars whose ready time or lateness changes; broken promises first, then the latest. */
  readonly pickups: readonly PickupChange[];
  /** Each tier of the objective that differs, most important first. Less is better. */
  readonly objective: readonly { readonly tier: string; readonly before: number; readonly after: number }[];
}

/** What differs between two plans of the same book. Facts are no moves: they are the same in both. */
export function planChanges(before: Plan, after: Plan, jobs: Book['jobs']): PlanChanges {
  const names = new Map(jobs.map((job) => [job.id, carName(job)]));
  const promised = new Map(jobs.map((job) => [job.id, job.promise?.pickupAt ?? null]));
  const earlier = new Map(before.operations.map((each) => [keyOf(each), each]));
  const moves = after.operations.flatMap((each): MovedWork[] => {
    const was = earlier.get(keyOf(each));
    if (was === undefined || isSame(was, each)) return [];
    return [
      {
        jobId: each.jobId,
        car: names.get(each.jobId) ?? each.jobId,
        operation: each.operation,
        label: each.label,
        before: positionOf(was),
        after: positionOf(each),
        laterMinutes: Math.round((each.start - was.start) / 60_000),
      },
    ];
  });
  const outlook = new Map(before.jobs.map((each) => [each.jobId, each]));
  const pickups = after.jobs.flatMap((each): PickupChange[] => {
    const was = outlook.get(each.jobId);
    if (was === undefined || (was.readyAt === each.readyAt && was.lateMinutes === each.lateMinutes)) return [];
    return [
      {
        jobId: each.jobId,
        car: names.get(each.jobId) ?? each.jobId,
        promisedPickupAt: promised.get(each.jobId) ?? null,
        readyAtBefore: was.readyAt,
        readyAtAfter: each.readyAt,
        lateMinutesBefore: was.lateMinutes,
        lateMinutesAfter: each.lateMinutes,
        broken: each.lateMinutes > was.lateMinutes,
      },
    ];
  });
  const delay = (pickup: PickupChange) => pickup.readyAtAfter - pickup.readyAtBefore;
  const earlierValue = new Map(before.objective.map(({ tier, value }) => [tier, value]));
  return {
    moves,
    pickups: pickups.sort((a, b) => Number(b.broken) - Number(a.broken) || delay(b) - delay(a)),
    objective: after.objective
      .map(({ tier, value }) => ({ tier, before: earlierValue.get(tier) ?? 0, after: value }))
      .filter((each) => each.before !== each.after),
  };
}

export function keyOf({ jobId, operation }: Pick<PlannedOperation, 'jobId' | 'operation'>): string {
  return `${jobId} ${operation}`;
}

export function positionOf({ start, placeId, people }: PlannedOperation): Position {
  return { start, placeId, people };
}

/** The same minute, place and people. */
export function isSame(a: Position, b: Position): boolean {
  return a.start === b.start && a.placeId === b.placeId && [...a.people].sort().join() === [...b.people].sort().join();
}
