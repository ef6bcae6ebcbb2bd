import type { BookingChange } from '../../../src/shop/booking/booking-request.ts';
import { change } from '../../../src/shop/booking/change.ts';
import { cancel, noShow } from '../../../src/shop/booking/close-without-work.ts';
import { walkIn } from '../../../src/shop/booking/walk-in.ts';
import { addDays, localDate, localInstant } from '../../../src/trade/calendar/local-instant.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { AddOn } from '../../../src/trade/model/recipe.ts';
import type { Instant, LocalTime } from '../../../src/trade/model/time.ts';
import { makeBookings } from '../books/bookings.ts';
import type { Happened, Happening, Shares } from './happenings.ts';
import type { Luck } from './luck.ts';
import { openingOf } from './opening.ts';
import type { VirtualShop } from './virtual-shop.ts';

const MINUTE = 60_000;
/** Nobody is to the minute. */
const UNPUNCTUAL_MINUTES = 10;
/** The desk waits so long for a car before it closes the booking. */
const WAITED_FOR_MINUTES = 180;
const SHORT_VISITS: ReadonlySet<string> = new Set(['walkInWash', 'maintenance', 'afterCheck']);
const ADD_ONS: readonly AddOn[] = ['glass', 'wheels', 'trim', 'interior'];

/** What customers do besides being at the shop's door at the hour they were told. */
export class Customers {
  readonly #shop: VirtualShop;
  readonly #luck: Luck;
  readonly #shares: Shares;
  readonly #happened: Happened;
  readonly #opening: ReturnType<typeof openingOf>;
  readonly #atTheDoor: { readonly at: Instant; readonly name: string }[];
  readonly #done = new Set<string>();

  constructor(shop: VirtualShop, luck: Luck, shares: Shares, happened: Happened, span: { from: Instant; to: Instant }) {
    this.#shop = shop;
    this.#luck = luck;
    this.#shares = shares;
    this.#happened = happened;
    this.#opening = openingOf(shop.data, span.from, span.to);
    this.#atTheDoor = this.#opening.workdays.flatMap((date) => {
      const name = `WALK-IN ${date.slice(5)}`;
      const hour = `${String(luck.whole(`${name} hour`, 9, 14)).padStart(2, '0')}:00` as LocalTime;
      const at = localInstant(date, hour, shop.data.shop.timeZone, 'start');
      return luck.draw(name) < shares.walkIn && at > span.from ? [{ at, name }] : [];
    });
  }

  /** When a car comes; never, if its customer does not. */
  comesAt(job: Job): number {
    const name = job.vehicle.registration;
    if (this.#hits('noShow', name)) return Number.POSITIVE_INFINITY;
    const told = job.dropOffAt ?? job.earliestDropOff;
    return this.#opening.whenOpen(told + MINUTE * this.#minutesLate(name, 'comes'));
  }

  /** When a car is fetched that is promised, or planned, for an hour. */
  fetchedAt(job: Job, told: number): number {
    const name = `${job.vehicle.registration} fetched`;
    const minutes = this.#hits('late', name)
      ? this.#luck.whole(name, 30, 150)
      : this.#luck.whole(name, 0, UNPUNCTUAL_MINUTES);
    return this.#opening.whenOpen(told + MINUTE * minutes);
  }

  /** Notes that a car has come. */
  noteComing(job: Job): void {
    const name = job.vehicle.registration;
    if (this.#hits('early', name)) this.#happened.note('early', [job.id]);
    else if (this.#hits('late', name)) this.#happened.note('late', [job.id]);
  }

  async act(now: Instant, openJobs: readonly Job[]): Promise<void> {
    while (this.#atTheDoor.length > 0 && this.#atTheDoor[0]!.at <= now)
      await this.#stand(now, this.#atTheDoor.shift()!.name);
    for (const job of openJobs) {
      for (const { kind, at } of this.#plans(job)) {
        if (at > now) continue;
        this.#done.add(`${kind} ${job.id}`);
        await this.#carryOut(kind, job, now);
        // What else was meant for it is looked at again.
        break;
      }
    }
  }

  nextDue(now: Instant, openJobs: readonly Job[]): number {
    const due = openJobs.flatMap((job) => this.#plans(job).map(({ at }) => at));
    return Math.min(...[...due, ...this.#atTheDoor.map(({ at }) => at)].filter((at) => at > now));
  }

  #hits(kind: Happening, name: string): boolean {
    return this.#luck.draw(`${name} ${kind}`) < this.#shares[kind];
  }

  #minutesLate(name: string, what: string): number {
    const early = this.#hits('early', name);
    if (early) return -this.#luck.whole(`${name} ${what} early`, 15, 60);
    const late = this.#hits('late', name);
    return late
      ? this.#luck.whole(`${name} ${what} late`, 30, 150)
      : this.#luck.whole(`${name} ${what}`, 0, UNPUNCTUAL_MINUTES);
  }

  /** What a customer will yet do about a booking, and when. */
  #plans(job: Job): { readonly kind: 'cancelled' | 'changed' | 'noShow'; readonly at: number }[] {
    if (job.state !== 'booked' || job.dropOffAt === null) return [];
    const { createdAt, dropOffAt } = job;
    const name = job.vehicle.registration;
    const between = (what: string) =>
      this.#opening.whenOpen(createdAt + this.#luck.draw(`${name} ${what} when`) * (dropOffAt - createdAt));
    const plans = [
      { kind: 'cancelled' as const, at: between('cancels') },
      { kind: 'changed' as const, at: between('changes') },
      { kind: 'noShow' as const, at: this.#opening.whenOpen(dropOffAt + WAITED_FOR_MINUTES * MINUTE) },
    ];
    return plans.filter(({ kind }) => this.#hits(kind, name) && !this.#done.has(`${kind} ${job.id}`));
  }

  async #carryOut(kind: 'cancelled' | 'changed' | 'noShow', job: Job, now: Instant): Promise<void> {
    const { deps, shopId } = this.#shop;
    const expectedVersion = (await deps.store.jobs.get(shopId, job.id))!.version;
    const closing = { shopId, jobId: job.id, expectedVersion, note: '' };
    try {
      if (kind === 'cancelled') await cancel(deps, closing);
      else if (kind === 'noShow') await noShow(deps, closing);
      else await change(deps, { shopId, jobId: job.id, expectedVersion, change: this.#changeOf(job, now) });
      this.#happened.note(kind, [job.id]);
    } catch (problem) {
      this.#happened.refuse(kind, problem);
    }
  }

  /** Another hour of the day, another day with a pickup to match, or something more to be done for the same pickup. */
  #changeOf(job: Job, now: Instant): BookingChange {
    const name = job.vehicle.registration;
    const which = this.#luck.draw(`${name} changes what`);
    const { dropOffAt } = job;
    const { timeZone: zone } = this.#shop.data.shop;
    const hours = this.#luck.whole(`${name} changes hours`, 1, 3);
    if (which < 0.4) {
      const other = dropOffAt! + (which < 0.15 ? -1 : 1) * hours * 60 * MINUTE;
      return { dropOffAt: this.#opening.whenOpen(Math.max(other, now + 30 * MINUTE)) };
    }
    if (which < 0.75) {
      const time = new Date(dropOffAt!).toLocaleTimeString('en-GB', {
        timeZone: zone,
        hour: '2-digit',
        minute: '2-digit',
      });
      const day = addDays(localDate(dropOffAt!, zone), hours);
      const other = this.#opening.whenOpen(localInstant(day, time as LocalTime, zone, 'start'));
      return { dropOffAt: other, pickupAt: null, wantedPickupAt: null };
    }
    const more = ADD_ONS.filter((each) => !job.addOns.includes(each))[0];
    return { addOns: [...job.addOns, ...(more === undefined ? [] : [more])] };
  }

  async #stand(now: Instant, name: string): Promise<void> {
    const { deps, shopId, data } = this.#shop;
    const like = makeBookings(data, 1, 40, this.#luck.whole(`${name} car`, 1, 1_000_000), now).find(({ recipeId }) =>
      SHORT_VISITS.has(recipeId),
    );
    if (like === undefined) return;
    const vehicle = { ...like.vehicle, registration: name };
    const request = { ...like, vehicle, earliestDropOff: now, wantedPickupAt: null };
    try {
      const { job } = await walkIn(deps, { shopId, request, clientId: `floor ${name}`, placeId: null });
      this.#happened.note('walkIn', [job.id]);
    } catch (problem) {
      this.#happened.refuse('walkIn', problem);
    }
  }
}
