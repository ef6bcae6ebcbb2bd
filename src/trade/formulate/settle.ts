import type { TechnicianId } from '../model/ids.ts';
import type { RecipeStep } from '../model/recipe.ts';
import type { Instant } from '../model/time.ts';
import type { Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import { lagMinutes } from './lag-minutes.ts';
import type { Order } from './order.ts';
import { endOfWork } from './progress-reading.ts';
import type { StepInstance } from './step-instance.ts';

/** Work whose beginning and end are known: done, or going on by itself until `end`. In the engine's minutes. */
export interface Settled {
  readonly start: number;
  readonly end: number;
  readonly by: readonly TechnicianId[];
}

export type SettledWork = Map<StepInstance, Settled>;

export function isUnattended({ step }: StepInstance): boolean {
  return step.attendance.kind === 'unattended';
}

/**
 * What needs no more decision. Finished and abandoned work has ended. A step that was passed over counts as done when
 * the step after it began, so that what must not follow too soon still waits. Unattended work begins by itself when all
 * that it waits for in its stay has ended, whether or not somebody says so, and ends by itself. A customer who has been
 * asked has until the hour named to answer. Once the handover has begun, nothing else is left to do.
 */
export function settle(
  car: Car,
  instances: readonly StepInstance[],
  order: Order,
  passed: ReadonlyMap<StepInstance, Instant>,
  times: CoatingTimes,
): SettledWork {
  const { axis, now } = car.frame;
  const settled: SettledWork = new Map();
  for (const instance of instances) {
    const done = recordedWork(car, instance);
    if (done !== undefined) {
      settled.set(instance, done);
      continue;
    }
    const over = overByHandover(car, instance);
    if (over !== undefined) {
      settled.set(instance, over);
      continue;
    }
    const passedAt = passed.get(instance);
    const latest = passedAt === undefined ? undefined : axis.toMinute(passedAt, 'floor');
    if (instance.step.kind === 'customerAnswer') {
      const answer = customerAnswer(car, latest);
      if (answer !== undefined) settled.set(instance, answer);
      if (answer !== undefined || car.job.inspection !== null) continue;
    }
    if (isUnattended(instance)) {
      const start = recordedStart(car, instance) ?? startByItself(car, instance, order, settled, times) ?? latest;
      if (start !== undefined && (start <= now || latest !== undefined)) {
        const end = Math.min(unattendedEnd(car, instance, start, times), latest ?? Number.POSITIVE_INFINITY);
        settled.set(instance, { start: Math.min(start, end), end, by: [] });
        continue;
      }
    }
    if (latest === undefined) continue;
    settled.set(instance, { start: latest, end: latest, by: [] });
    const text = `"${instance.step.label}" was never recorded; it counts as done because the work after it has begun.`;
    car.notices.push({ kind: 'passedOver', jobId: car.job.id, operation: instance.key, text });
  }
  return settled;
}

/** Work that the floor says has ended. */
export function recordedWork(car: Car, { record }: StepInstance): Settled | undefined {
  if (record === undefined || (record.state !== 'finished' && record.state !== 'abandoned')) return undefined;
  const last = record.pieces.at(-1);
  if (last === undefined) return undefined;
  const { axis } = car.frame;
  return { start: axis.toMinute(record.pieces[0]!.from, 'floor'), end: axis.toMinute(last.to!, 'floor'), by: last.by };
}

/** Once the handover has begun, all other work on the car is over. */
export function overByHandover(car: Car, instance: StepInstance): Settled | undefined {
  if (instance.step.kind === 'handover') return undefined;
  const handover = car.recipe.steps.findLast(isHandover);
  const begun = handover && car.record.work.get(handover.key);
  if (begun === undefined || begun.state === 'abandoned' || begun.pieces.length === 0) return undefined;
  const end = car.frame.axis.toMinute(begun.pieces[0]!.from, 'floor');
  const start = Math.min(end, recordedStart(car, instance) ?? end);
  return { start, end, by: instance.record?.pieces.at(-1)?.by ?? [] };
}

function isHandover({ kind }: RecipeStep): boolean {
  return kind === 'handover';
}

function recordedStart(car: Car, { record }: StepInstance): number | undefined {
  const first = record?.pieces[0];
  return first === undefined ? undefined : car.frame.axis.toMinute(first.from, 'floor');
}

/** When an edge of an instance was, as far as it is known. */
export function edgeMinute(
  car: Car,
  instance: StepInstance,
  edge: 'start' | 'end',
  settled: SettledWork,
): number | undefined {
  const known = settled.get(instance);
  if (known !== undefined) return known[edge];
  return edge === 'start' ? recordedStart(car, instance) : undefined;
}

function startByItself(
  car: Car,
  instance: StepInstance,
  { links, bounds }: Order,
  settled: SettledWork,
  times: CoatingTimes,
): number | undefined {
  const place = instance.step.kind === 'customerAnswer' ? null : instance.step.stay;
  let start: number | undefined;
  for (const { from, to } of links) {
    if (to !== instance) continue;
    const since = edgeMinute(car, from, 'end', settled);
    if (since === undefined || (place !== null && from.step.stay !== place)) return undefined;
    start = Math.max(start ?? 0, since);
  }
  for (const bound of bounds) {
    const { lag, from, to } = bound;
    if (to !== instance || lag.to.edge !== 'start') continue;
    const since = edgeMinute(car, from, lag.from.edge, settled);
    if (since === undefined) return undefined;
    const minutes = lagMinutes(car, times, bound, 'min', [presentZone(car)], since);
    if (place !== null && from.step.stay !== place) return undefined;
    start = Math.max(start ?? 0, since + minutes);
  }
  return start;
}

export function unattendedEnd(car: Car, { step, breakdown }: StepInstance, start: number, times: CoatingTimes): number {
  if (step.duration.by !== 'dataSheet' || step.coatingId === null) return start + breakdown.minutes;
  const { work, progress } = times.cure(car.coating(step.coatingId), step.duration.item, presentZone(car));
  if (progress === null) return start + work;
  return endOfWork(progress, start, work) ?? car.frame.horizon;
}

/** Air zone of the place the car stands in. */
export function presentZone(car: Car): number | null {
  const visit = car.record.visits.at(-1);
  const place = visit === undefined ? undefined : car.frame.placeOf.get(visit.placeId);
  return place === undefined ? null : (car.frame.places[place]!.zone ?? null);
}

/** Between the question and the answer: over once there is one, else until the hour by which it is due. */
function customerAnswer(car: Car, latest: number | undefined): Settled | undefined {
  const { inspection, scope } = car.job;
  if (inspection === null || scope === null) return undefined;
  const { axis, now } = car.frame;
  const asked = Math.min(axis.toMinute(inspection.at, 'floor'), now, latest ?? now);
  if (scope.answer !== 'awaited') return { start: asked, end: asked, by: [] };
  const due = Math.max(now, axis.toMinute(scope.answerBy, 'ceil'));
  return { start: asked, end: Math.min(due, latest ?? due), by: [] };
}
