import { DateTime } from 'luxon';
import { mix, scenarioSeed, uniform } from '../../promise/simulate/seeded-draws.ts';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { JobId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import { toldToCome } from '../../trade/model/told-to-come.ts';
import { comesAt, type RecentDemand } from './recent-demand.ts';

export const MONTH_WEEKS = 4;
const DAY = 86_400_000;

export interface Draw {
  readonly seed: number;
  readonly month: number;
  /** Cars a week against the recent ones, in percent. */
  readonly demandPercent: number;
}

/**
 * Four weeks like the recent ones: as many cars a week, each like one that came (drawn with replacement: B. Efron, "Bootstrap
 * methods", Annals of Statistics 7, 1979), in a week drawn alike, on the weekday its model came and at the hour it was told, wanted
 * back after as long.
 * Same seed and month, same cars, whatever is changed about the shop.
 */
export function drawnMonth(demand: RecentDemand, zone: string, monday: LocalDate, draw: Draw): Job[] {
  const { jobs, weeks } = demand;
  const count = jobs.length === 0 ? 0 : Math.round((jobs.length / weeks) * MONTH_WEEKS * (draw.demandPercent / 100));
  const ofMonth = scenarioSeed(draw.seed, draw.month);
  const below = (end: number, stream: number) => Math.floor(uniform(ofMonth, mix(stream)) * end);
  return Array.from({ length: count }, (_, index): Job => {
    const like = jobs[below(jobs.length, 2 * index)]!;
    const came = localDate(comesAt(like), zone);
    const date = addDays(monday, 7 * below(MONTH_WEEKS, 2 * index + 1) + daysSinceMonday(came));
    const told = toldToCome(like);
    const later = Math.round((Date.parse(date) - Date.parse(localDate(told, zone))) / DAY);
    const wanted = like.promise?.pickupAt ?? like.wantedPickupAt;
    return drawnLike(like, index, shifted(told, later, zone), wanted && shifted(wanted, later, zone));
  });
}

/** A car nobody has decided anything about: it comes when the plan has room, and is wanted back at an hour. */
function drawnLike(like: Job, index: number, comes: Instant, pickupAt: Instant | null): Job {
  const { cameAt: _, leftAt: __, ...undecided } = like;
  return {
    ...undecided,
    id: JobId.parse(`drawn-${index}`),
    state: 'booked',
    customer: { name: 'drawn', phone: '', email: '' },
    earliestDropOff: comes,
    dropOffAt: null,
    wantedPickupAt: pickupAt,
    promise: pickupAt === null ? null : { pickupAt, givenAt: comes, confidencePercent: 0 },
    holdUntil: null,
    arranged: null,
    inspection: null,
    scope: null,
    wishes: [],
    notes: '',
  };
}

const daysSinceMonday = (date: LocalDate): number => (new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7;

/** The same hour of the clock so many days later. */
function shifted(at: Instant, days: number, zone: string): Instant {
  return DateTime.fromMillis(at, { zone }).plus({ days }).toMillis() as Instant;
}
