import type { Records } from '../../store/store.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import { foundJob } from '../records/found.ts';
import { pagesOfJobs } from '../records/pages-of-jobs.ts';

/** Fewer letters or digits than these are nobody's telephone number. */
const SHORTEST_PHONE = 5;

/** Letters and digits alone, in lower case: "KX 12-AB" and "kx12ab" are one. */
export function folded(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}@.]/gu, '');
}

/**
 * Whether two bookings are of one person: the same e-mail address, the same telephone number, or the same name with the same
 * registration. A name alone is many people's, and a car is sold. What was erased is nobody's.
 */
export function isSamePerson(one: Job, other: Job): boolean {
  if (one.erasedAt !== undefined || other.erasedAt !== undefined) return false;
  const same = (of: (job: Job) => string, shortest: number) =>
    of(one).length >= shortest && folded(of(one)) === folded(of(other));
  return (
    same((job) => folded(job.customer.email), 1) ||
    same((job) => job.customer.phone.replace(/\D/g, ''), SHORTEST_PHONE) ||
    (same((job) => folded(job.customer.name), 1) && same((job) => folded(job.vehicle.registration), 1))
  );
}

/**
 * The bookings of whoever brought this one, itself first: what shares a mark with it, what shares one with those, and so on.
 * @throws NotFound
 */
export async function bookingsOfPerson(records: Records, shopId: ShopId, jobId: JobId): Promise<Job[]> {
  const { value: first } = await foundJob(records, shopId, jobId);
  const found = new Map<JobId, Job>([[first.id, first]]);
  // A map is walked through to what is added on the way.
  for (const job of found.values()) {
    if (job.erasedAt !== undefined) continue;
    for (const mark of [job.customer.email, job.customer.phone, job.vehicle.registration]) {
      for (const other of await withMark(records, shopId, mark)) {
        if (!found.has(other.id) && isSamePerson(job, other)) found.set(other.id, other);
      }
    }
  }
  return [...found.values()];
}

/** Bookings in which a name, number, address or registration stands, perhaps as part of a longer one. */
export async function withMark(records: Records, shopId: ShopId, mark: string): Promise<Job[]> {
  if (folded(mark) === '') return [];
  const jobs: Job[] = [];
  for await (const page of pagesOfJobs(records, shopId, { search: mark })) jobs.push(...page);
  return jobs;
}
