import type { Car } from './car.ts';
import { crewPace } from './crews.ts';
import { type Fact, usesOfPeople } from './job-operations.ts';
import type { ModeMaker } from './modes.ts';
import { isPausable } from './pausable.ts';
import { endOfWork } from './progress-reading.ts';
import { crewOf, isPaced, overrunMinutes, restNormMinutes } from './remaining-work.ts';
import { presentZone } from './settle.ts';
import type { StepInstance } from './step-instance.ts';

/** Work that a crew has in hand: it ends when what is left is done, or a little after now when that is over already. */
export function workInHand(car: Car, maker: ModeMaker, instance: StepInstance, part: 'whole' | 'rest'): Fact {
  const { frame } = car;
  const { step, record, breakdown } = instance;
  const pieces = record!.pieces;
  const { from, by } = pieces.at(-1)!;
  const start = frame.axis.toMinute(from, 'floor');
  const crew = crewOf(car, by);
  const norm = part === 'whole' ? breakdown.minutes : restNormMinutes(car, instance, pieces.slice(0, -1));
  const minutes = isPaced(car, instance) ? Math.ceil((norm * 100) / crewPace(crew)) : norm;
  const pausable = isPausable(step, minutes, frame) && crew.length > 0;
  const progress = pausable ? maker.crewProgress(crew) : undefined;
  const computed =
    progress === undefined
      ? start + minutes
      : (endOfWork(frame.progresses[progress]!, start, minutes) ?? start + minutes);
  const overrun = computed <= frame.now;
  const end = overrun ? frame.now + overrunMinutes(minutes) : computed;
  if (overrun) {
    const text = `"${step.label}" was to take ${minutes} minutes and is not finished; it is planned to need ${end - frame.now} more.`;
    car.notices.push({ kind: 'overrun', jobId: car.job.id, operation: instance.key, text });
  }
  const mode = {
    work: Math.max(1, minutes),
    ...(progress === undefined || overrun ? {} : { progress }),
    uses: [...usesOfPeople(car, instance, by), ...maker.equipmentUses(step, presentZone(car))],
  };
  return { start, end, mode };
}
