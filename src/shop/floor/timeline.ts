import type { KnownWritten, Store, Visiting } from '../../store/store.ts';
import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import { eventsByJob } from '../../trade/formulate/events-by-job.ts';
import type { JobId, PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { FloorEvent } from '../../trade/model/job.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { carsWithNewFacts } from '../records/cars-with-new-facts.ts';
import { madeOnce } from '../records/made-once.ts';
import { openJobsById, type ShopAsItStands, shopAsItStands } from '../records/shop-as-it-stands.ts';
import { happenedTo, toldOfCarsHere, withCarsHere } from './as-the-floor-tells.ts';
import { hoursOfDay } from './hours-of-day.ts';
import { carsAt, loadVisits, type Visit } from './load-cars.ts';
import { indexOf } from './plan-index.ts';
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

const MINUTE_MS = 60_000;
const QUARTER_MS = 15 * MINUTE_MS;

/**
 * The day by place and by person: the plan, and of cars that have left what the floor told. The same one is told again within the
 * minute as long as nothing has happened that it shows. @throws NotFound (shop)
 */
export async function timeline(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; date: LocalDate },
): Promise<Timeline> {
  const { shopId, date } = input;
  const now = deps.clock();
  const standing = await shopAsItStands(deps.store, shopId);
  const { shop, plan, places, technicians, openJobs } = standing;
  const from = dayStart(date, shop.timeZone);
  const to = dayStart(addDays(date, 1), shop.timeZone);
  const visits = await visitsOfDay(deps.store, shopId, { date, from, to, now });
  const told = toldOfCarsHere(standing);
  const minute = Math.floor(now / MINUTE_MS);
  const shown = [shop, places, technicians, openJobs, visits, minute, ...told];
  return madeOnce(plan ?? shop, date, shown, () => dayOf({ standing, visits, told, date, from, to, now }));
}

interface Shown {
  readonly standing: ShopAsItStands;
  readonly visits: readonly Visit[];
  /** Of cars in the shop. */
  readonly told: readonly FloorEvent[];
  readonly date: LocalDate;
  readonly from: Instant;
  readonly to: Instant;
  readonly now: Instant;
}

function dayOf({ standing, visits, told, date, from, to, now }: Shown): Timeline {
  const { plan, places, technicians } = standing;
  const index = indexOf(plan);
  const touches = touching({ from, to });
  // Of cars in the plan it is the plan that tells, and the floor what has become of it.
  const gone = carsAt(
    visits.filter(({ job }) => !index.hasCar(job.id)),
    now,
  );
  const jobs = new Map(openJobsById(standing));
  const operations = [
    ...withCarsHere(index, index.ofDay(from, to), happenedTo(told, now), now),
    ...gone.flatMap((car) => toldOperations(car, now)),
  ].filter((each) => touches({ from: each.start, to: each.end }));
  const stood = gone.flatMap((car) =>
    car.happened.stays.map((stay) => ({ ...stay, jobId: car.job.id, to: stay.to ?? now })),
  );
  const stays = [...(plan?.stays ?? []), ...stood].filter(touches);
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

/** Cars that touch a day, whether they are in the plan or not, with what has happened to them. */
function visitsOfDay(
  store: Store,
  shopId: ShopId,
  { date, ...visiting }: Visiting & { readonly date: LocalDate },
): Promise<readonly Visit[]> {
  // What is listed of a day changes with the clock once, when the day begins, at a whole quarter of an hour everywhere on earth:
  // cars that are here are there from then on.
  const name = `visits of ${date}, quarter ${Math.floor(visiting.now / QUARTER_MS)}`;
  return store.whileUnchanged(
    shopId,
    name,
    () => loadVisits(store, shopId, { visiting }),
    (was, written) => (written.some(({ what }) => what === 'job') ? null : withNewFacts(store, shopId, was, written)),
  );
}

async function withNewFacts(
  store: Store,
  shopId: ShopId,
  visits: readonly Visit[],
  written: readonly KnownWritten[],
): Promise<readonly Visit[]> {
  const grown = carsWithNewFacts(written);
  const jobIds = visits.map(({ job }) => job.id).filter((id) => grown.has(id));
  if (jobIds.length === 0) return visits;
  const events = eventsByJob(await store.floorEvents.listByJobs(shopId, jobIds));
  return visits.map((visit) =>
    grown.has(visit.job.id) ? { ...visit, events: events.get(visit.job.id) ?? [] } : visit,
  );
}

type Span = { readonly from: Instant; readonly to: Instant };

const touching = (day: Span) => (span: Span) => span.from < day.to && span.to > day.from;
