import { measure } from '../calendar/intervals.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { Car } from './car.ts';
import { crewPace } from './crews.ts';
import type { RecordedPiece } from './floor-record.ts';
import { crewHours, type Person } from './people.ts';
import type { StepInstance } from './step-instance.ts';

/** Least minutes an interrupted operation is counted to need when it is taken up again; common practice: to find one's place. */
const leastRestMinutes = 5;

/** What work that has outlasted its time is expected to need still: a tenth of it, at least ten minutes. Common practice. */
export function overrunMinutes(plannedMinutes: number): number {
  return Math.max(10, Math.ceil(plannedMinutes / 10));
}

export function crewOf(car: Car, ids: readonly TechnicianId[]): Person[] {
  const crew: Person[] = [];
  for (const id of ids) {
    const person = car.frame.personOf.get(id);
    if (person !== undefined) crew.push(person);
  }
  return crew;
}

/** Whether a person's pace makes the work quicker or slower. */
export function isPaced(car: Car, { step }: StepInstance): boolean {
  return step.duration.by === 'workContent' && car.frame.norms.kinds[step.kind].paced;
}

/** Norm minutes that ended pieces have done: hours at work, at the pace of who was there. */
export function workedNormMinutes(car: Car, instance: StepInstance, pieces: readonly RecordedPiece[]): number {
  const { axis } = car.frame;
  let sum = 0;
  for (const { from, to, by } of pieces) {
    if (to === null) continue;
    const start = axis.toMinute(from, 'floor');
    const end = axis.toMinute(to, 'floor');
    const crew = crewOf(car, by);
    const inHours = instance.step.pausable && crew.length > 0 ? measure(crewHours(crew, true), start, end) : 0;
    const minutes = inHours > 0 ? inHours : end - start;
    sum += isPaced(car, instance) ? Math.ceil((minutes * crewPace(crew)) / 100) : minutes;
  }
  return sum;
}

/** Norm minutes still to do after the pieces that have ended. */
export function restNormMinutes(car: Car, instance: StepInstance, pieces: readonly RecordedPiece[]): number {
  return Math.max(leastRestMinutes, instance.breakdown.minutes - workedNormMinutes(car, instance, pieces));
}
