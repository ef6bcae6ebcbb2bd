import type { Inspection } from '../../trade/model/condition.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { workFacts } from '../../trade/work-content/work-facts.ts';
import { priceOf } from '../booking/draft-job.ts';
import { pickupFor } from '../booking/pickup-for.ts';
import type { ShopDeps } from '../deps.ts';
import { draftPlan } from '../planning/draft-plan.ts';
import { loadBook } from '../planning/load-book.ts';
import { Invalid } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { jobToChange } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import { bookedPasses } from './booked-passes.ts';
import { filmScope } from './film-scope.ts';
import { settledScope } from './settle-scope.ts';

/** What the inspection on clean paint changes, before the customer has answered. */
export interface RevisedScope {
  readonly job: Job;
  readonly correctionPasses: number;
  readonly priceMinor: number;
  readonly priceBeforeMinor: number;
  /** Planned ready time and pickup with the revised scope; null when it does not fit the book. */
  readonly readyAt: Instant | null;
  readonly pickupAt: Instant | null;
  readonly promiseKept: boolean;
  readonly answerBy: Instant;
  /** Panels on which no cut is planned, with the film figures. */
  readonly refusedPanels: readonly Objection[];
  /** Panels no figure can judge. */
  readonly leadDecides: readonly string[];
}

/**
 * Records defects and film readings taken on clean paint, revises scope, price and time, and asks the customer. A scope
 * that asks for no more than was booked needs no answer and runs.
 * @throws NotFound, Stale, WrongState, Invalid (inspection.at), Busy
 */
export async function recordInspection(
  deps: ShopDeps,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number; inspection: Inspection },
): Promise<RevisedScope> {
  const { shopId, jobId, inspection } = input;
  const now = deps.clock();
  if (inspection.at > now + 2 * 60_000) throw new Invalid('It cannot have been taken in the future.', 'inspection.at');
  const before = await jobToChange(deps.store, input, ['inShop']);
  const book = await loadBook(deps.store, shopId, now);
  const facts = workFacts({ ...before, inspection, scope: null }, book.shop);
  const scope = filmScope(inspection, facts, book.shop);
  const answerBy = (now + book.shop.inspectionAnswerMinutes * 60_000) as Instant;
  const asked: Job = {
    ...before,
    inspection,
    scope: {
      correctionPasses: scope.correctionPasses,
      answer: 'awaited',
      answerBy,
      priceMinor: 0,
      sparedPanels: [...scope.sparedPanels],
    },
  };
  const approved: Job = { ...asked, scope: { ...asked.scope!, answer: 'approved' } };
  const priceMinor = priceOf(approved, book);
  const grows = scope.correctionPasses > bookedPasses(before) || priceMinor > before.priceMinor;
  const job = grows ? { ...asked, scope: { ...asked.scope!, priceMinor } } : settledScope(asked, 'defaulted', book);
  const stored = await inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      const put = await records.jobs.put(shopId, job, input.expectedVersion);
      await tell(records, shopId, now, 'inspection.recorded', jobId, {
        correctionPasses: scope.correctionPasses,
        priceMinor,
        refusedPanels: scope.refusals,
      });
      return put.value;
    }),
  );
  deps.replanner.ask(shopId, 'inspection');
  const jobs = book.jobs.map((each) => (each.id === jobId ? approved : each));
  const draft = await draftPlan(
    deps,
    { ...book, jobs },
    { reason: 'revised scope', workLimit: 1, keepPlan: true },
  ).catch(() => null);
  const planned = draft?.plan.jobs.find((each) => each.jobId === jobId) ?? null;
  return {
    job: stored,
    correctionPasses: scope.correctionPasses,
    priceMinor,
    priceBeforeMinor: before.priceMinor,
    readyAt: planned?.readyAt ?? null,
    pickupAt: draft === null ? null : (pickupFor(draft, jobId)?.pickupAt ?? null),
    promiseKept: planned !== null && planned.lateMinutes === 0,
    answerBy,
    refusedPanels: scope.refusals,
    leadDecides: scope.leadDecides,
  };
}
