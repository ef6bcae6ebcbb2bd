import type { Instant } from '../../trade/model/time.ts';
import type { CarOnFloor } from '../floor/gates/situation.ts';
import { stepOf } from '../floor/recipe-step.ts';
import { endedAt } from '../floor/what-happened.ts';

export interface PromiseCount {
  readonly due: number;
  readonly kept: number;
  readonly broken: number;
  readonly open: number;
}

/**
 * Promises that fall due in a stretch. Kept: all work but the handover was done by then, or the car was picked up by
 * then. A customer who comes later does not break it.
 */
export function promisesDue(cars: readonly CarOnFloor[], from: Instant, to: Instant, now: Instant): PromiseCount {
  const count = { due: 0, kept: 0, broken: 0, open: 0 };
  for (const car of cars) {
    const at = car.job.promise?.pickupAt;
    if (at === undefined || at < from || at >= to || car.job.state === 'cancelled' || car.job.state === 'noShow')
      continue;
    count.due++;
    const readyAt = readyTime(car);
    if (readyAt !== null && readyAt <= at) count.kept++;
    else if (readyAt === null && now <= at) count.open++;
    else count.broken++;
  }
  return count;
}

/** When the car was ready, as the facts tell; null while it is not. */
export function readyTime(car: CarOnFloor): Instant | null {
  const { happened, recipe } = car;
  const inspected = [...happened.work].filter(([key]) => stepOf(recipe, key)?.holdPoint === 'final');
  const handedOver = [...happened.work].some(([key]) => stepOf(recipe, key)?.kind === 'handover');
  const passed = inspected.length > 0 && inspected.every(([, record]) => record.state === 'finished');
  if (!passed && !handedOver && happened.pickedUpAt === null) return null;
  const ends = [...happened.work]
    .filter(([key]) => stepOf(recipe, key)?.kind !== 'handover')
    .map(([, record]) => endedAt(record));
  if (happened.pickedUpAt === null && ends.some((end) => end === null)) return null;
  const done = ends.filter((end) => end !== null);
  return done.length > 0 ? (Math.max(...done) as Instant) : happened.pickedUpAt;
}
