import type { TechnicianId } from '../model/ids.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CrewNeed } from './crews.ts';
import type { ModeMaker } from './modes.ts';
import type { StepInstance } from './step-instance.ts';

/** Where work is done that needs no car, or whose place has been left. One list, so that it is known again. */
export const nowhere: readonly number[] = [];

/** Whether somebody, or just these people, can do a step in some of the places at all. */
export function canBeDone(
  car: Car,
  maker: ModeMaker,
  alsoNeeded: readonly CrewNeed[],
  { step, breakdown }: StepInstance,
  places: readonly number[],
  only?: readonly TechnicianId[],
  including?: TechnicianId,
): boolean {
  try {
    const minutes = step.duration.by === 'dataSheet' ? null : breakdown.minutes;
    const wish = { step, minutes, places, earliest: car.frame.now, alsoNeeded };
    const people = { ...(only === undefined ? {} : { only }), ...(including === undefined ? {} : { including }) };
    return maker.modes(car, { ...wish, ...people }).length > 0;
  } catch (error) {
    if (error instanceof CannotPlan) return false;
    throw error;
  }
}
