import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job, JobState } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { Invalid, WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { tell } from '../records/tell.ts';
import type { AlsoAnswer } from '../requests/answer-once.ts';
import { bookingsOfPerson } from './same-person.ts';
import { erasedJob, withoutPerson } from './without-person.ts';
import { wordsOfPerson } from './words-of-person.ts';

export interface ErasePerson {
  readonly shopId: ShopId;
  /** A booking of the person's. */
  readonly jobId: JobId;
  /** Of the bookings that count as the same person's, those that are meant; null: all. */
  readonly jobIds: readonly JobId[] | null;
}

export interface Erasure {
  readonly erasedAt: Instant;
  readonly jobIds: readonly JobId[];
  readonly photos: number;
  readonly messages: number;
  readonly links: number;
  /** Other rows from which words were taken: the trail of changes, news, kept replies, exceptions, notes of the floor. */
  readonly texts: number;
}

/** Facts still to come need to know whose car it is and whom to call. */
const OPEN: ReadonlySet<JobState> = new Set<JobState>(['held', 'booked', 'inShop']);

/**
 * Takes a customer out of everything that is kept, and leaves what was booked, planned, done and earned. The trail of changes
 * says that it was done and by whom, and no longer whose name stood there. A booking that was erased before stays as it is.
 * @throws NotFound, WrongState (a car of theirs is in the shop or expected), Invalid (a booking of somebody else)
 */
export async function erasePerson(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: ErasePerson,
  alsoAnswer: AlsoAnswer<Erasure>,
): Promise<Erasure> {
  const { shopId, jobId } = input;
  return inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      const at = deps.clock();
      const jobs = chosen(await bookingsOfPerson(records, shopId, jobId), input);
      const before = jobs.find((job) => job.id === jobId && job.erasedAt !== undefined);
      if (before !== undefined) {
        const again = { erasedAt: before.erasedAt!, jobIds: [jobId], photos: 0, messages: 0, links: 0, texts: 0 };
        await alsoAnswer(records, again);
        return again;
      }
      refuseOpen(jobs);
      const jobIds = jobs.map(({ id }) => id);
      const words = await wordsOfPerson(records, shopId, jobs);
      for (const job of jobs) await records.jobs.put(shopId, erasedJob(job, at), job.version);
      const cleared = await records.traces.clear(shopId, jobIds);
      const clean = withoutPerson(new Set(jobIds), words);
      const traces = await records.traces.find(shopId, { jobIds, words: words.anywhere });
      const rewritten = traces.flatMap((trace) => {
        const texts = Object.fromEntries(
          Object.entries(trace.texts).map(([column, text]) => [column, text === null ? null : clean(text, trace)]),
        );
        return Object.entries(texts).some(([column, text]) => text !== trace.texts[column])
          ? [{ ...trace, texts }]
          : [];
      });
      await records.traces.rewrite(shopId, rewritten);
      const erasure: Erasure = { erasedAt: at, jobIds, ...cleared, texts: rewritten.length };
      await records.audit.note(shopId, { kind: 'erasure', subject: jobId, after: erasure });
      for (const id of jobIds) await tell(records, shopId, at, 'job.changed', id, { erased: true });
      await alsoAnswer(records, erasure);
      return erasure;
    }),
  );
}

/** @throws Invalid naming a booking that is not among the person's */
function chosen(jobs: readonly Job[], { jobId, jobIds }: ErasePerson): readonly Job[] {
  if (jobIds === null) return jobs;
  const stranger = jobIds.find((id) => !jobs.some((job) => job.id === id));
  if (stranger !== undefined) {
    throw new Invalid(`Job ${stranger} is not this person's by e-mail, phone, or name and registration.`, 'jobIds');
  }
  if (!jobIds.includes(jobId)) throw new Invalid('The job in the address has to be among those named.', 'jobIds');
  return jobs.filter((job) => jobIds.includes(job.id));
}

function refuseOpen(jobs: readonly Job[]): void {
  const open = jobs.filter(({ state }) => OPEN.has(state));
  if (open.length === 0) return;
  const inShop = open.some(({ state }) => state === 'inShop');
  throw new WrongState(
    `A car of theirs is ${inShop ? 'in the shop' : 'booked ahead'} (job ${open.map(({ id }) => id).join(', ')}): ` +
      `${inShop ? 'hand it back' : 'cancel it'} first, since the shop has to know whose it is.`,
    'state',
  );
}
