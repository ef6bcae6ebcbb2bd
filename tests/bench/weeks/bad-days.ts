import { recordReadings } from '../../../src/shop/conditions/record-readings.ts';
import { takeTimeOff } from '../../../src/shop/floor/time-off.ts';
import { putThing } from '../../../src/shop/setup/collection.ts';
import { places } from '../../../src/shop/setup/kinds.ts';
import { addDays, dayStart, localDate, localInstant } from '../../../src/trade/calendar/local-instant.ts';
import type { AirZoneId, JobId, TechnicianId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { AirConditions } from '../../../src/trade/model/shop.ts';
import type { Instant, LocalDate, LocalTime } from '../../../src/trade/model/time.ts';
import type { Happened, Happening, Shares } from './happenings.ts';
import type { Luck } from './luck.ts';
import { openingOf } from './opening.ts';
import type { VirtualShop } from './virtual-shop.ts';

interface Event {
  readonly kind: Happening;
  readonly at: Instant;
  readonly befall: (cars: readonly JobId[]) => Promise<void>;
}

const MINUTE = 60_000;
/** The desk is told so early of who is ill and which bay is closed. */
const TOLD: LocalTime = '07:45';
const NOON: LocalTime = '12:45';
const EVENING: LocalTime = '18:00';
/** The data sheets' usual limit is 70 %. */
const DAMP_PERCENT = 78;
const MEASURED_EVERY_MS = 30 * MINUTE;

/** What befalls a shop for a day or half of one: people who are ill, bays that are closed, air that is too damp for coating. */
export class BadDays {
  readonly #shop: VirtualShop;
  readonly #happened: Happened;
  readonly #events: Event[];
  readonly #away: { readonly person: TechnicianId; readonly from: Instant; readonly to: Instant }[] = [];
  readonly #damp: { readonly from: Instant; readonly to: Instant }[] = [];

  constructor(shop: VirtualShop, luck: Luck, shares: Shares, happened: Happened, span: { from: Instant; to: Instant }) {
    this.#shop = shop;
    this.#happened = happened;
    const { workdays } = openingOf(shop.data, span.from, span.to);
    const hits = (kind: Happening, name: string) => luck.draw(`${name} ${kind}`) < shares[kind];
    const events = workdays.flatMap((date): Event[] => [
      ...shop.data.technicians.filter(({ id }) => hits('sick', `${date} ${id}`)).map(({ id }) => this.#sick(date, id)),
      ...(hits('bayClosed', date) ? [this.#closed(date, luck)] : []),
      ...(hits('damp', date) ? this.#dampAir(date) : []),
    ]);
    this.#events = events.filter(({ at }) => at > span.from).sort((a, b) => a.at - b.at);
  }

  /** Whether somebody is away who should be here. */
  isAway(who: TechnicianId, at: number): boolean {
    return this.#away.some(({ person, from, to }) => person === who && from <= at && at < to);
  }

  /** The air of a zone as an instrument shows it. */
  airAt(setPoint: AirConditions, at: Instant): AirConditions {
    const isDamp = this.#damp.some(({ from, to }) => from <= at && at < to);
    return isDamp ? { ...setPoint, relativeHumidityPercent: DAMP_PERCENT } : setPoint;
  }

  async act(now: Instant, openJobs: readonly Job[]): Promise<void> {
    while (this.#events.length > 0 && this.#events[0]!.at <= now) {
      const { kind, befall } = this.#events.shift()!;
      const today = localDate(now, this.#shop.data.shop.timeZone);
      const comesToday = ({ dropOffAt }: Job) =>
        dropOffAt !== null && localDate(dropOffAt, this.#shop.data.shop.timeZone) === today;
      const cars = openJobs.filter((job) => job.state === 'inShop' || comesToday(job)).map(({ id }) => id);
      try {
        await befall(cars);
      } catch (problem) {
        this.#happened.refuse(kind, problem);
      }
    }
  }

  nextDue(): number {
    return this.#events[0]?.at ?? Number.POSITIVE_INFINITY;
  }

  #at(date: LocalDate, time: LocalTime): Instant {
    return localInstant(date, time, this.#shop.data.shop.timeZone, 'start');
  }

  #sick(date: LocalDate, person: TechnicianId): Event {
    const from = this.#at(date, TOLD);
    const to = dayStart(addDays(date, 1), this.#shop.data.shop.timeZone) as Instant;
    return {
      kind: 'sick',
      at: from,
      befall: async (cars) => {
        this.#away.push({ person, from, to });
        this.#happened.note('sick', cars);
        await takeTimeOff(this.#shop.deps, { shopId: this.#shop.shopId, technicianId: person, from, to, note: 'ill' });
      },
    };
  }

  #closed(date: LocalDate, luck: Luck): Event {
    const bays = this.#shop.data.places.filter(({ kind }) => kind === 'bay');
    const bay = bays[luck.whole(`${date} which bay`, 0, bays.length - 1)]!;
    const isMorning = luck.draw(`${date} morning`) < 0.5;
    const part = isMorning ? { from: '08:00', to: NOON } : { from: NOON, to: EVENING };
    return {
      kind: 'bayClosed',
      at: this.#at(date, isMorning ? TOLD : '12:00'),
      befall: async (cars) => {
        const { deps, shopId } = this.#shop;
        this.#happened.note('bayClosed', cars);
        const { value, version } = (await deps.store.places.get(shopId, bay.id))!;
        const closures = [...value.closures, { date, kind: 'off' as const, parts: [part] }];
        await putThing(deps, places, { shopId, value: { ...value, closures }, expected: version });
      },
    };
  }

  #dampAir(date: LocalDate): Event[] {
    const from = this.#at(date, '12:00');
    const to = this.#at(date, EVENING);
    const measured: Event[] = [];
    for (let at = from + MEASURED_EVERY_MS; at <= to; at += MEASURED_EVERY_MS)
      measured.push({ kind: 'damp', at: at as Instant, befall: () => this.#measure(at as Instant) });
    const begins: Event = {
      kind: 'damp',
      at: from,
      befall: async (cars) => {
        this.#damp.push({ from, to });
        this.#happened.note('damp', cars);
        await this.#measure(from);
      },
    };
    return [begins, ...measured];
  }

  /** Instruments in each zone tell on their own while the air is watched. */
  async #measure(at: Instant): Promise<void> {
    const { deps, shopId, data } = this.#shop;
    const readings = data.airZones.map(({ id, setPoint }) => readingOf(id, this.airAt(setPoint, at), at));
    await recordReadings(deps, { shopId, readings });
  }
}

/** A measured reading of a zone's air, its panels as warm. */
export function readingOf(airZoneId: AirZoneId, air: AirConditions, at: Instant) {
  const { airTempC, relativeHumidityPercent, panelTempC = airTempC } = air;
  return { airZoneId, at, source: 'measured' as const, airTempC, relativeHumidityPercent, panelTempC, jobId: null };
}
