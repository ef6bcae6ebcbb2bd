import type { Store } from '../../store/store.ts';
import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import type { JobId, PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { type ShopAsItStands, shopAsItStands } from '../records/shop-as-it-stands.ts';
import { asTheFloorTells, happenedToCarsHere } from './as-the-floor-tells.ts';
import { hoursOfDay } from './hours-of-day.ts';
import { carsAt, loadVisits, type Visit } from './load-cars.ts';
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

const QUARTER_MS = 15 * 60_000;

/** The day by place and by person: the plan, and of cars that have left what the floor told. @throws NotFound (shop) */
export async function timeline(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; date: LocalDate },
): Promise<Timeline> {
  const { shopId, date } = input;
  const now = deps.clock();
  // What is listed of a day changes with the clock once, when the day begins, at a whole quarter of an hour everywhere on earth:
  // cars that are here are there from then on.
  const name = `day ${date}, quarter ${Math.floor(now / QUARTER_MS)}`;
  const { standing, from, to, planned, visits } = await deps.store.whileUnchanged(shopId, name, () =>
    readDay(deps.store, shopId, date, now),
  );
  const { plan, places, technicians } = standing;
  const touches = touching({ from, to });
  const gone = carsAt(visits, now);
  const jobs = new Map(standing.openJobs.map((job) => [job.id, job]));
  const happened = happenedToCarsHere(standing, now);
  const operations = [
    ...asTheFloorTells(planned, happened, now),
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
      hours: hoursOfDay(person, date, standing.shop.timeZone),
      operations: operations.filter((each) => each.people.includes(person.id)).sort((a, b) => a.start - b.start),
    })),
  };
}

interface Day {
  readonly standing: ShopAsItStands;
  readonly from: Instant;
  readonly to: Instant;
  /** The planned work of the day, and all of the cars that are here: the floor may have told any of it for that day. */
  readonly planned: readonly PlannedOperation[];
  /** Visits that touch the day and are in no plan any more. */
  readonly visits: readonly Visit[];
}

async function readDay(store: Store, shopId: ShopId, date: LocalDate, now: Instant): Promise<Day> {
  const standing = await shopAsItStands(store, shopId);
  const { shop, plan, openJobs } = standing;
  const from = dayStart(date, shop.timeZone);
  const to = dayStart(addDays(date, 1), shop.timeZone);
  const touches = touching({ from, to });
  const here = new Set(openJobs.filter(({ state }) => state === 'inShop').map(({ id }) => id));
  const inPlan = new Set(plan?.jobs.map((each) => each.jobId));
  return {
    standing,
    from,
    to,
    planned: (plan?.operations ?? []).filter(
      ({ jobId, start, end }) => here.has(jobId) || touches({ from: start, to: end }),
    ),
    visits: await loadVisits(store, shopId, { visiting: { from, to, now } }, inPlan),
  };
}

type Span = { readonly from: Instant; readonly to: Instant };

const touching = (day: Span) => (span: Span) => span.from < day.to && span.to > day.from;
