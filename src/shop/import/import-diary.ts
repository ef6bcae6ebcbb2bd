import { StalePlan } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { draftJob, mustBeBookable } from '../booking/draft-job.ts';
import type { PlanningDeps } from '../deps.ts';
import { type DraftPlan, draftPlan } from '../planning/draft-plan.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { Busy, Refused } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { outlookOf } from '../promises/outlooks.ts';
import type { PlanOutlook } from '../promises/plan-outlook.ts';
import { tell } from '../records/tell.ts';
import { columnOf, type DiaryFault, type DiaryLine } from './diary-line.ts';
import { readDiary } from './read-diary.ts';

export interface DiaryImport {
  readonly dryRun: boolean;
  readonly lines: number;
  /** Empty unless something stops the import; then nothing was done. */
  readonly faults: readonly DiaryFault[];
  /** What the diary promises, and what a plan of it says. */
  readonly jobs: readonly {
    readonly line: number;
    /** Null on a dry run. */
    readonly jobId: JobId | null;
    readonly customer: string;
    readonly promisedPickupAt: Instant | null;
    readonly plannedReadyAt: Instant | null;
    readonly kept: boolean;
  }[];
  readonly cannotKeep: number;
}

const MOST_TRIES = 4;
/** However far ahead a diary promises, its promises are judged. */
const ALL_DAYS = 400;

/**
 * Brings in a diary as CSV, whole or not at all. Columns are documented in `DIARY_COLUMNS`.
 * A dry run reads, plans and reports, and stores nothing. @throws NotFound (shop), Busy, PlanRejected
 */
export async function importDiary(
  deps: PlanningDeps,
  input: { shopId: ShopId; csv: string; dryRun: boolean },
): Promise<DiaryImport> {
  const { shopId, csv, dryRun } = input;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const book = await loadBook(deps.store, shopId, deps.clock());
    const diary = readDiary(csv, book.recipes, book.shop.timeZone, book.now);
    const entries = diary.lines.map((line) => ({ line, job: bookedJob(line, JobId.parse(deps.newId()), book) }));
    const faults = [...diary.faults, ...entries.flatMap(({ line, job }) => objections(line, job, book))];
    if (faults.length > 0 || entries.length === 0) {
      return { dryRun, lines: diary.lines.length, faults, jobs: [], cannotKeep: 0 };
    }
    const together = { ...book, jobs: [...book.jobs, ...entries.map(({ job }) => job)] };
    const workLimit = deps.budget.promptWork;
    const draft = await draftPlan(deps, together, { reason: 'diary brought in', workLimit, keepPlan: true });
    const report = reportOf(entries, draft, dryRun);
    if (dryRun) return report;
    const { cars } = await outlookOf(deps, { ...draft.book, previousPlan: draft.plan }, ALL_DAYS);
    try {
      await inShopTerms(() =>
        publish(
          deps.store,
          {
            shopId,
            plan: draft.plan,
            expectedVersion: book.previousPlan?.version ?? 0,
            jobs: together.jobs,
            exceptions: draft.exceptions,
            alsoWrite: async (records) => {
              for (const { job } of entries) {
                await records.jobs.put(shopId, withConfidence(job, cars), 'new');
                await tell(records, shopId, book.now, 'job.changed', job.id, { state: job.state, imported: true });
              }
            },
          },
          book.now,
        ),
      );
      return report;
    } catch (refusal) {
      if (!(refusal instanceof StalePlan)) throw refusal;
    }
  }
  throw new Busy('Others keep booking; try again.');
}

function bookedJob(line: DiaryLine, id: JobId, book: Book): Job {
  const { dropOffAt, promisedPickupAt } = line;
  const promise =
    promisedPickupAt === null ? null : { pickupAt: promisedPickupAt, givenAt: book.now, confidencePercent: 0 };
  return { ...draftJob(line.request, id, book), state: 'booked', dropOffAt, promise };
}

/** A promise from a diary was given before anybody computed its probability: the one it is brought in with is kept. */
function withConfidence(job: Job, cars: PlanOutlook['cars']): Job {
  const car = cars.find(({ jobId }) => jobId === job.id);
  if (job.promise === null || car === undefined) return job;
  const { medianReadyAt, probabilityPercent } = car;
  return { ...job, promise: { ...job.promise, confidencePercent: probabilityPercent, medianReadyAt } };
}

function objections(line: DiaryLine, job: Job, book: Book): DiaryFault[] {
  try {
    mustBeBookable(job, book);
    return [];
  } catch (problem) {
    if (!(problem instanceof Refused)) throw problem;
    return problem.objections.map(({ field, text }) => ({ line: line.line, column: columnOf(field.split('.')), text }));
  }
}

function reportOf(
  entries: readonly { readonly line: DiaryLine; readonly job: Job }[],
  draft: DraftPlan,
  dryRun: boolean,
): DiaryImport {
  const jobs = entries.map(({ line, job }) => {
    const planned = draft.plan.jobs.find((each) => each.jobId === job.id);
    return {
      line: line.line,
      jobId: dryRun ? null : job.id,
      customer: job.customer.name,
      promisedPickupAt: line.promisedPickupAt,
      plannedReadyAt: planned?.readyAt ?? null,
      kept: planned !== undefined && planned.lateMinutes === 0,
    };
  });
  return { dryRun, lines: entries.length, faults: [], jobs, cannotKeep: jobs.filter((each) => !each.kept).length };
}
