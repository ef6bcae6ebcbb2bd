import type { Mode } from '../../engine/problem/problem.ts';
import type { OperationKey } from '../model/ids.ts';
import type { Releases } from './book.ts';
import { CannotPlan, type Car } from './car.ts';
import type { JobStay } from './itinerary.ts';
import type { ModeMaker } from './modes.ts';
import { moveStep } from './move-step.ts';
import { nowhere } from './placing.ts';
import type { ProblemDraft } from './problem-draft.ts';

/** Writes a job's stays, and before each but the first the move that may lead to it. */
export function writeStays(
  car: Car,
  stays: readonly JobStay[],
  draft: ProblemDraft,
  maker: ModeMaker,
  releases: Releases,
): void {
  const standsOn = releases.closuresOf?.has(car.job.id) ?? false;
  for (const [k, stay] of stays.entries()) {
    const move = k === 0 ? undefined : writeMove(car, stay.key ?? `stay${k}`, draft, maker);
    draft.stays.push({
      job: car.index,
      places: stay.places,
      optional: stay.optional,
      ...(move === undefined ? {} : { move }),
      ...(stay.fixed === undefined ? {} : { fixed: standsOn ? { ...stay.fixed, standsOn } : stay.fixed }),
    });
  }
}

/** @returns its index; undefined when nobody may drive, so that the car can only stay where it is. */
function writeMove(car: Car, stayKey: string, draft: ProblemDraft, maker: ModeMaker): number | undefined {
  const minutes = car.frame.book.shop.moveMinutes;
  const modes = movers(car, minutes, maker);
  if (modes === undefined) return undefined;
  const key = `move.${stayKey}` as OperationKey;
  draft.operations.push({ name: key, job: car.index, modes, pausable: false, presence: 'optional' });
  draft.formulatedOperations.push({
    jobId: car.job.id,
    key,
    kind: 'move',
    label: moveStep.label,
    step: null,
    role: 'move',
    part: 'whole',
    breakdown: { minutes, lines: [{ label: 'a move, as the shop says', minutes }] },
    state: 'planned',
  });
  return draft.operations.length - 1;
}

function movers(car: Car, minutes: number, maker: ModeMaker): readonly Mode[] | undefined {
  try {
    return maker.modes(car, { step: moveStep, minutes, places: nowhere, earliest: car.frame.now, alsoNeeded: [] });
  } catch (error) {
    if (error instanceof CannotPlan) return undefined;
    throw error;
  }
}
