import type { Interval } from '../../engine/problem/problem.ts';
import { subtract } from '../../trade/calendar/intervals.ts';
import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import { dayWindows, openHours, placeHours } from '../../trade/calendar/open-hours.ts';
import type { PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { Place } from '../../trade/model/shop.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { loadCars } from '../floor/load-cars.ts';
import { Invalid } from '../problems/problems.ts';
import { foundShop } from '../records/found.ts';
import { type BaySplit, splitBay } from './bay-minutes.ts';
import { type PersonSplit, splitPerson } from './person-minutes.ts';
import { type PromiseCount, promisesDue } from './promises-of-week.ts';
import { type Spans, spansOf } from './work-spans.ts';

/**
 * Minutes of a bay's opening hours; the parts add up to `open`. `worked`: somebody works on the car. `curing`: unattended
 * work. `waiting`: a car stands there and nothing happens to it. `blocked`: no car can be there (turnaround, closure, a
 * tandem neighbour in the way).
 */
export interface BayMinutes extends BaySplit {
  readonly placeId: PlaceId;
  readonly name: string;
}

/** Minutes of a person's shifts; the parts add up to `open`. Overtime is apart. */
export interface PersonMinutes extends PersonSplit {
  readonly technicianId: TechnicianId;
  readonly name: string;
}

export interface WeekUtilisation {
  readonly monday: LocalDate;
  readonly from: Instant;
  readonly to: Instant;
  readonly bays: readonly BayMinutes[];
  readonly people: readonly PersonMinutes[];
  readonly promises: PromiseCount;
}

/** Where the week's hours go: facts for what is past, the plan for the rest. @throws NotFound, Invalid (monday) */
export async function weekUtilisation(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; monday: LocalDate },
): Promise<WeekUtilisation> {
  const { shopId, monday } = input;
  if (new Date(`${monday}T00:00:00Z`).getUTCDay() !== 1) throw new Invalid(`${monday} is not a Monday.`, 'monday');
  const now = deps.clock();
  const shop = await foundShop(deps.store, shopId);
  const days = { zone: shop.timeZone, from: monday, to: addDays(monday, 7) };
  const from = dayStart(days.from, days.zone);
  const to = dayStart(days.to, days.zone);
  const cars = await loadCars(deps.store, shopId, { visiting: { from, to, now } }, now);
  const places = (await deps.store.places.list(shopId)).map((each) => each.value);
  const coatings = (await deps.store.coatings.list(shopId)).map((each) => each.value);
  const airZones = (await deps.store.airZones.list(shopId)).map((each) => each.value);
  const spans = spansOf(cars, await deps.store.plans.current(shopId), now, { coatings, places, airZones });
  const open = openHours(days, shop.hours, shop.exceptions).open;
  const people = (await deps.store.technicians.list(shopId)).map((each) => each.value);
  return {
    monday,
    from,
    to,
    bays: places
      .filter((place) => place.kind === 'bay')
      .map((place) => ({
        placeId: place.id,
        name: place.name,
        ...splitBay({
          open: minutes(open),
          cars: minutes(spans.cars.filter((each) => each.placeId === place.id)),
          work: minutes(spans.work.filter((each) => each.placeId === place.id && each.sharePercent > 0)),
          unattended: minutes(spans.work.filter((each) => each.placeId === place.id && each.sharePercent === 0)),
          shut: minutes([...closures(place, days), ...inTheWay(place, spans)]),
          turnaroundMinutes: place.turnaroundMinutes,
        }),
      })),
    people: people.map((person) => {
      const hours = openHours(days, person.shifts, person.exceptions);
      const own = spans.work.filter((each) => each.people.includes(person.id));
      return {
        technicianId: person.id,
        name: person.name,
        ...splitPerson({
          hours: minutes(hours.open),
          overtime: minutes(hours.overtime),
          handsOn: minutes(own.filter((each) => each.sharePercent === 100)),
          watched: own
            .filter((each) => each.sharePercent > 0 && each.sharePercent < 100)
            .map((each) => ({ ...minuteSpan(each), sharePercent: each.sharePercent })),
        }),
      };
    }),
    promises: promisesDue(await loadCars(deps.store, shopId, { promised: { from, to } }, now), from, to, now),
  };
}

function closures(place: Place, days: { zone: string; from: LocalDate; to: LocalDate }): Interval[] {
  const open = placeHours(days, place.closures);
  return open === undefined ? [] : subtract(dayWindows(days), open);
}

/** Times at which a tandem neighbour stands in the way. */
function inTheWay(place: Place, spans: Spans): Interval[] {
  return spans.cars.filter((each) => place.blockedBy.includes(each.placeId)).map(({ from, to }) => ({ from, to }));
}

/** Facts carry milliseconds; a week's report counts whole minutes, and cuts every edge the same way so that parts add up. */
const minuteSpan = ({ from, to }: Interval): Interval => ({
  from: Math.floor(from / 60_000),
  to: Math.floor(to / 60_000),
});
const minutes = (spans: readonly Interval[]): Interval[] => spans.map(minuteSpan).filter(({ from, to }) => from < to);
