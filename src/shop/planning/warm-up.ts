import { demoBook } from '../../trade/demo/demo-book.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { BookingRequest } from '../booking/booking-request.ts';
import type { Desk } from '../booking/desk.ts';
import { draftJob } from '../booking/draft-job.ts';
import { readDemo } from '../demo/demo-data.ts';
import type { Log } from '../deps.ts';
import type { Drafter, DraftTerms } from './drafter.ts';
import { PLAN_DAYS } from './load-book.ts';

export interface WarmUpDeps {
  readonly drafter: Drafter;
  readonly desk: Desk;
  readonly terms: DraftTerms;
  readonly now: Instant;
  /** Whether somebody's work waits for the threads: then they get warm by that. */
  readonly isAsked: () => boolean;
  /** Ends it at once. */
  readonly signal: AbortSignal;
  readonly log: Log;
}

/** So often the invented book is planned, half of the times from nothing and half from the plan before. */
const DRAFTS = 24;
/** And so often a better plan is looked for, on the threads that nobody waits for, with so many units of work. */
const IMPROVEMENTS = 4;
const IMPROVING_WORK = 4_000;
/** Questions put to the desk about its cars, all of them in turn, each time two days later. */
const QUESTIONS = 72;
const LATER_MS = 2 * 86_400_000;

/**
 * Plans the invented demo book, and asks the desk about its cars, a few times over, so that the threads have their code loaded and
 * compiled when the first real question comes. Nothing is stored.
 */
export async function warmUp({ drafter, desk, terms, now, isAsked, signal, log }: WarmUpDeps): Promise<void> {
  const goesOn = () => !signal.aborted && !isAsked();
  try {
    const book = await inventedBook(now);
    let plan: Plan | null = null;
    for (let k = 0; k < DRAFTS && goesOn(); k++) {
      const previousPlan: Plan | null = k < DRAFTS / 2 ? null : plan;
      const ask = { reason: 'warm-up', workLimit: 0, keepPlan: true, signal };
      plan = (await drafter.draft({ ...book, previousPlan }, ask, terms)).plan;
    }
    const shopId = book.shop.id;
    const standing = { shopId, key: 'warm-up', sequence: 0, book: { ...book, previousPlan: plan } };
    for (let k = 0; k < QUESTIONS && goesOn(); k++) {
      const job = book.jobs[k % book.jobs.length]!;
      const earliestDropOff = (now + LATER_MS * Math.floor(k / book.jobs.length)) as Instant;
      const asked = { ...job, id: JobId.parse(`${job.id}-again`), earliestDropOff };
      await desk.ask(standing, { kind: 'slots', job: asked, wantedDropOffAt: null });
    }
    for (let k = 0; k < IMPROVEMENTS && goesOn(); k++) {
      const ask = { reason: 'warm-up', workLimit: IMPROVING_WORK, keepPlan: true, signal };
      await drafter.draft({ ...book, previousPlan: plan }, ask, { ...terms, nobodyWaits: true });
    }
    if (signal.aborted) return;
    // The desk forgets the invented book for one with nothing in it.
    const empty = { shopId, key: 'warm-up, over', sequence: 0, book: { ...book, jobs: [] } };
    await desk.ask(empty, { kind: 'open' });
  } catch (err) {
    if (!signal.aborted) log.warn({ err }, 'the threads were not warmed up');
  }
}

async function inventedBook(now: Instant): Promise<Book> {
  const { book: template, ...data } = await readDemo();
  // Under a name of its own, so that it takes the place of no book that is open.
  const shop = { ...data.shop, id: ShopId.parse('warm-up') };
  const empty: Book = {
    ...data,
    shop,
    jobs: [],
    events: [],
    readings: [],
    previousPlan: null,
    now,
    horizonDays: PLAN_DAYS,
  };
  const jobs = demoBook(template, shop, now).map(({ isToldTightly: _, ...asked }, k) => {
    const request = BookingRequest.parse(asked);
    return { ...draftJob(request, JobId.parse(`warm-up-${k}`), empty), state: 'booked' as const };
  });
  return { ...empty, jobs };
}
