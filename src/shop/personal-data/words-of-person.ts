import type { Records } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import { carName } from '../jobs/job-view.ts';
import { folded, withMark } from './same-person.ts';

/** Changes of one booking that are looked through for what it said before. */
const MOST_CHANGES = 1_000;
/** Shorter words mean too many things to be taken out of what is written about others. */
const SHORTEST_ANYWHERE = 4;

/** How texts name a person. */
export interface WordsOfPerson {
  /** As they stand in the person's own bookings, now or before. The longest first. */
  readonly own: readonly string[];
  /** Those that mean nobody else, and so are taken out wherever they stand. */
  readonly anywhere: readonly string[];
}

type Named = Pick<Job, 'customer' | 'vehicle'>;

/** Words by which a booking's customer and car are named. */
function wordsOf(job: Named): string[] {
  const { customer, vehicle } = job;
  const car = vehicle.registration === '' ? [] : [carName(job), vehicle.registration];
  return [customer.name, customer.phone, customer.email, ...car].filter((word) => folded(word) !== '');
}

/** How the person of these bookings is named, in what the trail of changes says they were before too. */
export async function wordsOfPerson(records: Records, shopId: ShopId, jobs: readonly Job[]): Promise<WordsOfPerson> {
  const own = new Set(jobs.flatMap(wordsOf));
  for (const { id } of jobs) {
    for (const { before, after } of await records.audit.list(shopId, {
      kind: 'job',
      subject: id,
      limit: MOST_CHANGES,
    })) {
      for (const text of [before, after]) for (const word of wordsBefore(text)) own.add(word);
    }
  }
  const ids = new Set<string>(jobs.map(({ id }) => id));
  const anywhere: string[] = [];
  for (const word of own) {
    if (folded(word).replace(/[^\p{L}\p{N}]/gu, '').length < SHORTEST_ANYWHERE) continue;
    const others = (await withMark(records, shopId, word)).filter((job) => !ids.has(job.id));
    if (!others.some((job) => wordsOf(job).some((theirs) => folded(theirs) === folded(word)))) anywhere.push(word);
  }
  const longestFirst = (words: Iterable<string>) => [...words].sort((a, b) => b.length - a.length);
  return { own: longestFirst(own), anywhere: longestFirst(anywhere) };
}

/** Words of a booking as the trail of changes has it, in whatever form bookings had then. */
function wordsBefore(text: string | null): string[] {
  const { customer, vehicle } = (text === null ? {} : JSON.parse(text)) as Partial<Named>;
  if (customer === undefined || vehicle === undefined) return [];
  return wordsOf({ customer, vehicle });
}
