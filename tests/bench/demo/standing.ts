import type { ShopData } from '../../../src/trade/formulate/book.ts';
import type { PlaceId } from '../../../src/trade/model/ids.ts';
import type { Plan } from '../../../src/trade/model/plan.ts';

/** Hours of one bay in a plan, day and night, from its beginning to its end. */
export interface BayHours {
  readonly placeId: PlaceId;
  /** Somebody works on the car, or watches it. */
  readonly worked: number;
  /** Unattended work: dwell, drying, cure. */
  readonly unattended: number;
  /** A car that is done with here waits for its next place or for what it does there. */
  readonly between: number;
  /** A car whose work is all done waits for its owner. */
  readonly finished: number;
  /** A car waits here for the next of its work here. */
  readonly withWorkLeft: number;
}

const HOUR_MS = 3_600_000;

/** Where cars stand in bays, and what is done to them there. */
export function hoursInBays(plan: Plan, { places }: Pick<ShopData, 'places'>, from: number, to: number): BayHours[] {
  return places
    .filter(({ kind }) => kind === 'bay')
    .map(({ id }) => {
      const hours = { worked: 0, unattended: 0, between: 0, finished: 0, withWorkLeft: 0 };
      for (const stay of plan.stays) {
        if (stay.placeId !== id || stay.to <= from || stay.from >= to) continue;
        const start = Math.max(stay.from, from);
        const end = Math.min(stay.to, to);
        const own = plan.operations.filter(({ jobId }) => jobId === stay.jobId);
        const here = own.filter((each) => each.placeId === id && each.end > stay.from && each.start < stay.to);
        const ready = plan.jobs.find(({ jobId }) => jobId === stay.jobId)!.readyAt;
        const lastHere = Math.max(stay.from, ...here.map((each) => Math.min(each.end, stay.to)));
        const edges = [start, end, ready, lastHere];
        for (const { pieces } of here) for (const piece of pieces) edges.push(piece.from, piece.to);
        const inside = [...new Set(edges.map((edge) => Math.min(end, Math.max(start, edge))))].sort((a, b) => a - b);
        for (const [k, left] of inside.slice(0, -1).entries()) {
          const length = (inside[k + 1]! - left) / HOUR_MS;
          const doing = here.filter(({ pieces }) => pieces.some((piece) => piece.from <= left && left < piece.to));
          if (doing.some(({ sharePercent }) => sharePercent > 0)) hours.worked += length;
          else if (doing.length > 0) hours.unattended += length;
          else if (left >= ready) hours.finished += length;
          else if (left >= lastHere) hours.between += length;
          else hours.withWorkLeft += length;
        }
      }
      return { placeId: id, ...hours };
    });
}
