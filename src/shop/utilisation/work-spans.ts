import type { Interval } from '../../engine/problem/problem.ts';
import type { PlaceId, TechnicianId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { CarOnFloor } from '../floor/gates/situation.ts';
import { stepOf } from '../floor/recipe-step.ts';
import type { Happened } from '../floor/what-happened.ts';
import { type Drying, workByItself } from './by-itself.ts';

/** A stretch of work on a car, in instants. */
export interface WorkSpan extends Interval {
  readonly placeId: PlaceId | null;
  readonly people: readonly TechnicianId[];
  /** 100 hands-on, less when watched, 0 unattended. */
  readonly sharePercent: number;
}

export interface CarSpan extends Interval {
  readonly placeId: PlaceId;
}

export interface Spans {
  readonly cars: readonly CarSpan[];
  readonly work: readonly WorkSpan[];
}

/**
 * What was done before `now`, from the facts; cures that nobody records from the plan that follows them or, of cars that are out of it, by how
 * long they take; and the plan from `now` on.
 */
export function spansOf(cars: readonly CarOnFloor[], plan: Plan | null, now: Instant, shop: Drying): Spans {
  const past = cars.map((car) => factSpans(car, now));
  const planned = new Set(plan?.jobs.map(({ jobId }) => jobId));
  const byItself = cars.filter(({ job }) => !planned.has(job.id)).flatMap((car) => workByItself(car, shop));
  const ahead = (from: number, to: number) => ({ from: Math.max(from, now), to });
  const plannedCars = (plan?.stays ?? [])
    .filter((stay) => stay.to > now)
    .map((stay) => ({ ...ahead(stay.from, stay.to), placeId: stay.placeId }));
  const plannedWork = (plan?.operations ?? []).flatMap((operation) =>
    operation.pieces
      .filter((piece) => piece.to > now || operation.sharePercent === 0)
      .map((piece) => ({
        ...(operation.sharePercent === 0 ? { from: piece.from, to: piece.to } : ahead(piece.from, piece.to)),
        placeId: operation.placeId,
        people: operation.people,
        sharePercent: operation.sharePercent,
      })),
  );
  return {
    cars: [...past.flatMap((each) => each.cars), ...plannedCars],
    work: [...past.flatMap((each) => each.work), ...byItself, ...plannedWork],
  };
}

function factSpans(car: CarOnFloor, now: Instant): Spans {
  const { happened, recipe } = car;
  const work: WorkSpan[] = [];
  for (const [key, record] of happened.work) {
    const attendance = stepOf(recipe, key)?.attendance;
    const sharePercent =
      attendance?.kind === 'watched' ? attendance.sharePercent : attendance?.kind === 'unattended' ? 0 : 100;
    for (const piece of record.pieces) {
      const placeId = placeAt(happened, piece.from);
      work.push({ from: piece.from, to: Math.min(piece.to ?? now, now), placeId, people: piece.by, sharePercent });
    }
  }
  const cars = happened.stays.map(({ placeId, from, to }) => ({ placeId, from, to: Math.min(to ?? now, now) }));
  return { cars, work };
}

function placeAt(happened: Happened, at: Instant): PlaceId | null {
  return happened.stays.findLast((stay) => stay.from <= at)?.placeId ?? null;
}
