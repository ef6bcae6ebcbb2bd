import type { Records } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { ConditionsReading } from '../../trade/model/readings.ts';
import type { Instant } from '../../trade/model/time.ts';
import { shopAsItStands } from '../records/shop-as-it-stands.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** Days ahead that a plan covers at least. */
export const PLAN_DAYS = 28;

/** Everything a plan of the shop is made from, as it stands now. Holds whose time is up are left out. @throws NotFound */
export async function loadBook(records: Records, shopId: ShopId, now: Instant): Promise<Book> {
  const { openJobs, events, plan, ...shop } = await shopAsItStands(records, shopId);
  const jobs = openJobs.filter((job) => isLive(job, now));
  const live = new Set(jobs.map(({ id }) => id));
  return {
    ...shop,
    jobs,
    events: jobs.length === openJobs.length ? events : events.filter(({ jobId }) => live.has(jobId)),
    readings: await readingsAround(records, shopId, now),
    previousPlan: plan,
    now,
    horizonDays: PLAN_DAYS,
  };
}

/** What is known of the air: measured of late, forecast, and what is usual. */
async function readingsAround(records: Records, shopId: ShopId, now: Instant): Promise<ConditionsReading[]> {
  const hour = Math.floor(now / HOUR);
  const spans = [
    { source: 'measured', before: 2 * HOUR, after: HOUR },
    { source: 'forecast', before: 6 * HOUR, after: 30 * DAY },
    { source: 'normal', before: 62 * DAY, after: 400 * DAY },
  ] as const;
  // Read by the whole hour, so that it is read again within one only when something has changed.
  const read = await records.whileUnchanged(
    shopId,
    `readings around hour ${hour}`,
    () =>
      Promise.all(
        spans.map(({ source, before, after }) =>
          records.readings.list(shopId, { ...span(hour * HOUR, before, HOUR + after), source }),
        ),
      ),
    (was, written) => (written.some(({ what }) => what === 'readings') ? null : Promise.resolve(was)),
  );
  return spans.flatMap(({ before, after }, k) => {
    const { from, to } = span(now, before, after);
    return read[k]!.filter(({ at }) => at >= from && at < to);
  });
}

/** A hold lives until its time is up; every other open job lives. */
export function isLive(job: Job, now: Instant): boolean {
  return job.state !== 'held' || job.holdUntil === null || job.holdUntil > now;
}

const span = (now: number, before: number, after: number) => ({
  from: Math.max(0, now - before) as Instant,
  to: (now + after) as Instant,
});
