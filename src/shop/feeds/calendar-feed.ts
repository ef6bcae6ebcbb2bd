import type { JobId, PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { NotFound } from '../problems/problems.ts';
import { foundJob, foundShop } from '../records/found.ts';

/** Whose calendar. */
export type CalendarOf =
  | { readonly placeId: PlaceId }
  | { readonly technicianId: TechnicianId }
  | { readonly jobId: JobId };

export interface CalendarEntry {
  /** The same entry has the same uid in every plan, so that a calendar moves it and does not double it. */
  readonly uid: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly summary: string;
  readonly location: string;
}

export interface CalendarFeed {
  readonly name: string;
  readonly timeZone: string;
  /** When the plan was made that it shows. */
  readonly asOf: Instant;
  readonly planVersion: number;
  readonly entries: readonly CalendarEntry[];
}

/** What the current plan says of a place, a person or a job, for a calendar to subscribe to. @throws NotFound */
export async function calendarFeed(
  deps: Pick<ShopDeps, 'store'>,
  input: { readonly shopId: ShopId; readonly of: CalendarOf },
): Promise<CalendarFeed> {
  const { shopId, of } = input;
  const shop = await foundShop(deps.store, shopId);
  const plan = await deps.store.plans.current(shopId);
  const places = new Map((await deps.store.places.list(shopId)).map(({ value }) => [value.id, value.name]));
  const jobs = new Map((await deps.store.jobs.listOpen(shopId)).map(({ value }) => [value.id, value]));
  const car = (jobId: JobId) => {
    const job = jobs.get(jobId);
    return job ? carName(job) : 'a car';
  };
  const feed = (name: string, entries: readonly CalendarEntry[]): CalendarFeed => ({
    name,
    timeZone: shop.timeZone,
    asOf: plan?.madeAt ?? (0 as Instant),
    planVersion: plan?.version ?? 0,
    entries,
  });

  if ('placeId' in of) {
    const name = places.get(of.placeId);
    if (name === undefined) throw new NotFound('place', of.placeId, 'placeId');
    const stays = plan?.stays.filter((stay) => stay.placeId === of.placeId) ?? [];
    return feed(
      name,
      stays.map((stay, at) => ({
        uid: `stay-${stay.jobId}-${stay.placeId}-${nthOfJob(stays, at)}`,
        from: stay.from,
        to: stay.to,
        summary: car(stay.jobId),
        location: name,
      })),
    );
  }
  if ('technicianId' in of) {
    const person = await deps.store.technicians.get(shopId, of.technicianId);
    if (!person) throw new NotFound('technician', of.technicianId, 'technicianId');
    return feed(person.value.name, workOf(plan, of.technicianId, car, places));
  }
  const job = (await foundJob(deps.store, shopId, of.jobId)).value;
  return feed(carName(job), visitOf(job, plan, shop.name));
}

function nthOfJob(stays: readonly { readonly jobId: JobId }[], at: number): number {
  return stays.slice(0, at).filter((stay) => stay.jobId === stays[at]?.jobId).length + 1;
}

/** Each piece of a person's work; what pauses overnight is two entries. */
function workOf(
  plan: Plan | null,
  technicianId: TechnicianId,
  car: (jobId: JobId) => string,
  places: ReadonlyMap<PlaceId, string>,
): CalendarEntry[] {
  const mine = plan?.operations.filter((operation) => operation.people.includes(technicianId)) ?? [];
  return mine.flatMap((operation) =>
    operation.pieces.map((piece, at) => ({
      uid: `work-${operation.jobId}-${operation.operation}-${technicianId}-${at + 1}`,
      from: piece.from,
      to: piece.to,
      summary: `${operation.label}: ${car(operation.jobId)}`,
      location: operation.placeId === null ? '' : (places.get(operation.placeId) ?? ''),
    })),
  );
}

/** What a customer may see: bring it, fetch it. The pickup is the promised one where there is a promise. */
function visitOf(job: Job, plan: Plan | null, shopName: string): CalendarEntry[] {
  const planned = plan?.jobs.find((each) => each.jobId === job.id);
  const quarter = 15 * 60_000;
  const entry = (what: string, uid: string, at: Instant | null | undefined): CalendarEntry[] =>
    at === null || at === undefined
      ? []
      : [
          {
            uid: `${uid}-${job.id}`,
            from: at,
            to: (at + quarter) as Instant,
            summary: `${what}: ${carName(job)}`,
            location: shopName,
          },
        ];
  return [
    ...entry('Drop-off', 'drop-off', job.dropOffAt ?? planned?.dropOffAt),
    ...entry('Pickup', 'pickup', job.promise?.pickupAt ?? planned?.pickupAt),
  ];
}
