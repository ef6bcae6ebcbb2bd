import type { Interval } from '../../engine/problem/problem.ts';
import { union } from '../calendar/intervals.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { Releases } from './book.ts';
import type { Car } from './car.ts';
import type { Item } from './items.ts';
import type { JobStay } from './itinerary.ts';
import { edgeMinute, type SettledWork } from './settle.ts';
import type { StepInstance } from './step-instance.ts';

/** When a car may come, must be ready, and goes. */
export interface JobTerms {
  readonly release: number;
  readonly dropOffOpen?: readonly Interval[];
  readonly pickupOpen?: readonly Interval[];
  /** Starts the moment the car is dropped off. */
  readonly arrival?: StepInstance;
  readonly handover?: StepInstance;
  readonly ready?: StepInstance;
  /** Drop-off hour told to the customer. */
  readonly frozenStart?: number;
  /** The customer comes at the promised hour and not before. */
  readonly handoverRelease?: number;
  readonly promise?: { readonly at: number; readonly weight: number };
  readonly due?: { readonly at: number; readonly weight: number };
  /** Work that a named person has been arranged for. */
  readonly onlyBy: ReadonlyMap<StepInstance, readonly TechnicianId[]>;
}

/** Whoever comes at the hour told waits so long at the door, and is awaited so long when the hour has passed; common practice. */
export const WAITS_AT_THE_DOOR_MINUTES = 30;

/**
 * What has been told to the customer. A drop-off hour that was told is kept to the minute until the car is there; when
 * it has passed and the car is not, it is expected any minute: whether it suits the shop decides nothing. Outside opening hours a car comes or goes
 * only at an hour that was told, or into the hands of a person named for it.
 */
export function jobTerms(
  car: Car,
  items: readonly Item[],
  settled: SettledWork,
  stays: readonly JobStay[],
  releases: Releases,
): JobTerms {
  const { job, frame, record } = car;
  const { axis, now, opening } = frame;
  const { handover, ready, hasBegun } = endOf(items);
  const hasCome = record.visits.length > 0 || job.state === 'inShop' || hasBegun;
  const onlyBy = new Map<StepInstance, readonly TechnicianId[]>();
  const weight = job.priority;
  const promisedAt = job.promise === null ? undefined : axis.toMinute(job.promise.pickupAt, 'ceil');
  const handoverIsOpen = handover !== undefined && !settled.has(handover) && handover.record === undefined;
  const isThere = stays.length === 1 && stays[0]!.fixed !== undefined;
  const readyAt = isThere && ready !== undefined && ready !== handover ? settled.get(ready)?.end : undefined;
  const fetchedAt = handover === undefined ? now : (edgeMinute(car, handover, 'start', settled) ?? now);

  const pickupBy = job.arranged?.pickupBy;
  if (pickupBy != null && handoverIsOpen) onlyBy.set(handover, [pickupBy]);
  const pickupOpen = pickupBy != null ? undefined : openAndAt(opening, promisedAt);
  const common = {
    ...(pickupOpen === undefined ? {} : { pickupOpen }),
    ...(handover === undefined ? {} : { handover }),
    ...(ready === undefined ? {} : { ready }),
    ...(promisedAt === undefined ? {} : { promise: { at: orWhenFetched(promisedAt, readyAt, fetchedAt), weight } }),
    ...(promisedAt === undefined || !handoverIsOpen ? {} : { handoverRelease: promisedAt }),
    ...(job.wantedPickupAt === null
      ? {}
      : { due: { at: orWhenFetched(axis.toMinute(job.wantedPickupAt, 'ceil'), readyAt, fetchedAt), weight } }),
    onlyBy,
  };
  if (hasCome) return { ...common, release: Math.max(0, stays[0]?.fixed?.from ?? 0) };

  const first = items[0];
  const arrival =
    first?.kind === 'step' && first.instance.step.attendance.kind !== 'unattended' && stays[0]?.optional === false
      ? first.instance
      : undefined;
  const dropOffBy = job.arranged?.dropOffBy;
  if (dropOffBy != null && arrival !== undefined) onlyBy.set(arrival, [dropOffBy]);
  const toldAt = job.dropOffAt === null ? undefined : axis.toMinute(job.dropOffAt, 'ceil');
  const isPast = toldAt !== undefined && toldAt < now;
  if (isPast) {
    const text = 'The hour for drop-off has passed and the car is not there; it is planned to come later.';
    car.notices.push({ kind: 'notArrived', jobId: job.id, operation: null, text });
  }
  const keepHour = toldAt !== undefined && !isPast && !releases.dropOffsOf?.has(job.id);
  const soonest = Math.max(now, toldAt ?? now);
  const waits = releases.dropOffsOf?.has(job.id)
    ? releases.dropOffsWithinMinutes
    : isPast
      ? WAITS_AT_THE_DOOR_MINUTES
      : undefined;
  const comes = waits === undefined ? opening : beginningOf(opening, soonest, waits);
  const dropOffOpen = keepHour || dropOffBy != null ? undefined : comes;
  return {
    ...common,
    release: Math.max(now, toldAt ?? axis.toMinute(job.earliestDropOff, 'ceil')),
    ...(dropOffOpen === undefined ? {} : { dropOffOpen }),
    ...(arrival === undefined ? {} : { arrival }),
    ...(keepHour && arrival !== undefined ? { frozenStart: toldAt } : {}),
  };
}

/** How a car's certain work ends: the handover, and what is done last before it. */
function endOf(items: readonly Item[]): {
  readonly handover: StepInstance | undefined;
  readonly ready: StepInstance | undefined;
  /** Whether anything at all is recorded of the work. */
  readonly hasBegun: boolean;
} {
  let handover: StepInstance | undefined;
  let beforeHandover: StepInstance | undefined;
  let last: StepInstance | undefined;
  let hasBegun = false;
  for (const item of items) {
    if (item.kind !== 'step') continue;
    const { instance } = item;
    if (instance.step.kind === 'handover') {
      handover = instance;
      beforeHandover = last;
    }
    last = instance;
    hasBegun ||= instance.record !== undefined;
  }
  return { handover, ready: handover === undefined ? last : (beforeHandover ?? handover), hasBegun };
}

/** A car that stood ready by its hour was there in time: later than that it is only from when it is fetched. */
function orWhenFetched(told: number, readyAt: number | undefined, fetchedAt: number): number {
  return readyAt !== undefined && readyAt <= told ? Math.max(told, fetchedAt) : told;
}

/** The very list of hours where they hold the minute already: many cars share it. */
function openAndAt(opening: readonly Interval[], minute: number | undefined): readonly Interval[] {
  if (minute === undefined || holds(opening, minute)) return opening;
  return union([...opening, { from: minute, to: minute + 1 }]);
}

function holds(hours: readonly Interval[], minute: number): boolean {
  for (const { from, to } of hours) if (from <= minute && minute < to) return true;
  return false;
}

/** So many minutes of what is open from a minute on, the shut ones between not counted; all of it, if it is no more. */
function beginningOf(open: readonly Interval[], since: number, minutes: number): readonly Interval[] {
  const beginning: Interval[] = [];
  let left = minutes + 1;
  for (const { from, to } of open) {
    const begin = Math.max(from, since);
    if (begin >= to || left <= 0) continue;
    beginning.push({ from: begin, to: Math.min(to, begin + left) });
    left -= to - begin;
  }
  return beginning;
}
