import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import type { JobId, PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { shopAsItStands } from '../records/shop-as-it-stands.ts';
import { asTheFloorTells, happenedToCarsHere } from './as-the-floor-tells.ts';
import { hoursOfDay } from './hours-of-day.ts';
import { carsAt, loadVisits } from './load-cars.ts';
import { toldOperations } from './told-operations.ts';

export interface TimelineStay {
  readonly jobId: JobId;
  readonly car: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly operations: readonly PlannedOperation[];
}

export interface Timeline {
  readonly date: LocalDate;
  /** The local day in instants; 23 or 25 hours on a daylight-saving change. */
  readonly from: Instant;
  readonly to: Instant;
  readonly asOf: Instant;
  readonly planVersion: number;
  readonly places: readonly {
    readonly placeId: PlaceId;
    readonly name: string;
    readonly kind: 'bay' | 'parking';
    readonly stays: readonly TimelineStay[];
  }[];
  readonly people: readonly {
    readonly technicianId: TechnicianId;
    readonly name: string;
    /** Shifts of the day, authorised overtime included. */
    readonly hours: readonly { readonly from: Instant; readonly to: Instant }[];
    readonly operations: readonly PlannedOperation[];
  }[];
}

/** The day by place and by person: the plan, and of cars that have left what the floor told. @throws NotFound (shop) */
export async function timeline(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; date: LocalDate },
): Promise<Timeline> {
  const { shopId, date } = input;
  const standing = await shopAsItStands(deps.store, shopId);
  const { shop, plan, places, technicians } = standing;
  const from = dayStart(date, shop.timeZone);
  const to = dayStart(addDays(date, 1), shop.timeZone);
  const now = deps.clock();
  const touches = (span: { from: Instant; to: Instant }) => span.from < to && span.to > from;
  // What is listed of a day changes with the clock once, when the day begins: cars that are here are there from then on.
  const name = `visits not in the plan, ${date}${from <= now ? '' : ', to come'}`;
  const visits = await deps.store.whileUnchanged(shopId, name, () =>
    loadVisits(deps.store, shopId, { visiting: { from, to, now } }, new Set(plan?.jobs.map((each) => each.jobId))),
  );
  const gone = carsAt(visits, now);
  const jobs = new Map(standing.openJobs.map((job) => [job.id, job]));
  const happened = happenedToCarsHere(standing, now);
  const operations = [
    ...asTheFloorTells(plan?.operations ?? [], happened, now),
    ...gone.flatMap((car) => toldOperations(car, now)),
  ].filter((each) => touches({ from: each.start, to: each.end }));
  const told = gone.flatMap((car) =>
    car.happened.stays.map((stay) => ({ ...stay, jobId: car.job.id, to: stay.to ?? now })),
  );
  const stays = [...(plan?.stays ?? []), ...told].filter(touches);
  for (const car of gone) jobs.set(car.job.id, car.job);
  return {
    date,
    from,
    to,
    asOf: now,
    planVersion: plan?.version ?? 0,
    places: places.map((place) => ({
      placeId: place.id,
      name: place.name,
      kind: place.kind,
      stays: stays
        .filter((stay) => stay.placeId === place.id)
        .sort((a, b) => a.from - b.from)
        .map((stay) => {
          const job = jobs.get(stay.jobId);
          return {
            jobId: stay.jobId,
            car: job === undefined ? stay.jobId : carName(job),
            from: stay.from,
            to: stay.to,
            operations: operations.filter(
              (each) => each.jobId === stay.jobId && each.start < stay.to && each.end > stay.from,
            ),
          };
        }),
    })),
    people: technicians.map((person) => ({
      technicianId: person.id,
      name: person.name,
      hours: hoursOfDay(person, date, shop.timeZone),
      operations: operations.filter((each) => each.people.includes(person.id)).sort((a, b) => a.start - b.start),
    })),
  };
}
