import { DateTime } from 'luxon';
import type { ConflictPart } from '../../engine/problem/solution.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlannedJob } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { type DraftPlan, draftOf, draftPlan } from '../planning/draft-plan.ts';
import { inLocalTime } from '../planning/in-local-time.ts';
import { setAsideBefore } from '../planning/set-aside.ts';
import { warmStartOf } from '../planning/warm-start.ts';
import { Refused } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** Units of search after the job was put in: only a little, for whoever asks is on the telephone. */
const QUICK_WORK = 1;

export interface Placed {
  readonly draft: DraftPlan;
  readonly planned: PlannedJob;
}

/** Why a job found no place, one reason each. */
export interface Unplaced {
  readonly reasons: readonly Objection[];
}

/**
 * Puts a job into what the plan has left (or puts it anew, when it is in the plan already) without making any promise
 * later than it stands. Nothing is stored.
 * @throws Refused when the job cannot be planned at all; PlanRejected; Busy
 */
export async function placeJob(deps: PlanningDeps, book: Book, job: Job): Promise<Placed | Unplaced> {
  const quick = await tryToPlace(deps, book, job, QUICK_WORK);
  // Whoever named an hour is worth a longer look than one of several choices.
  const hopeful =
    !isPlaced(quick) && job.dropOffAt !== null && quick.reasons.some((each) => each.rule === 'promiseOfOther');
  return hopeful ? tryToPlace(deps, book, job, deps.budget.promptWork) : quick;
}

async function tryToPlace(deps: PlanningDeps, book: Book, job: Job, workLimit: number): Promise<Placed | Unplaced> {
  const others = book.jobs.filter((each) => each.id !== job.id);
  const withJob: Book = { ...book, jobs: [...others, job] };
  const aside = setAsideBefore(book);
  aside.delete(job.id);
  const formulation = formulate(withJob, { aside });
  const left = formulation.leftOut.find((each) => each.jobId === job.id);
  if (left !== undefined) {
    const objection = { rule: 'cannotPlan', field: left.field, text: left.reason };
    throw new Refused(`It cannot be planned: ${left.reason}`, [objection]);
  }
  const solution = await deps.planner.plan(formulation.problem, {
    seed: deps.seed,
    workLimit,
    timeLimitMs: deps.budget.timeLimitMs,
    ...warmStart(formulation, book, job),
  });
  if (solution.schedule === null) {
    const parts = solution.conflict?.parts ?? [];
    return { reasons: parts.map((part) => reasonOf(part, formulation, book, job)) };
  }
  const draft = draftOf(deps, withJob, formulation, solution, solution.schedule, 'booking');
  const late = draft.plan.jobs.filter((each) => each.jobId !== job.id && each.lateMinutes > 0);
  const standing = new Map(book.previousPlan?.jobs.map((each) => [each.jobId, each.lateMinutes]));
  if (worseThan(standing, late, book).length > 0) {
    const worse = worseThan(await lateAnyway(deps, book, job), late, book);
    if (worse.length > 0) return { reasons: worse };
  }
  const planned = draft.plan.jobs.find((each) => each.jobId === job.id);
  if (planned === undefined) return { reasons: [] };
  return { draft, planned };
}

export function isPlaced(result: Placed | Unplaced): result is Placed {
  return 'draft' in result;
}

function warmStart(formulation: Formulation, book: Book, job: Job) {
  if (book.previousPlan === null) return {};
  const plan = { ...book.previousPlan };
  const without = { ...plan, jobs: plan.jobs.filter((each) => each.jobId !== job.id) };
  without.operations = plan.operations.filter((each) => each.jobId !== job.id);
  without.stays = plan.stays.filter((each) => each.jobId !== job.id);
  return { warmStart: warmStartOf(formulation, without) };
}

/** A part of the solver's conflict in the shop's words. */
function reasonOf(part: ConflictPart, formulation: Formulation, book: Book, job: Job): Objection {
  const operation = part.kind === 'operation' ? formulation.operations[part.index] : undefined;
  const rule = `conflict.${part.kind}`;
  if (operation?.jobId !== job.id) return { rule, field: '', text: inLocalTime(part.text, formulation, book.shop) };
  const local = (at: number) => DateTime.fromMillis(at, { zone: book.shop.timeZone }).toFormat('yyyy-MM-dd HH:mm');
  const when =
    job.dropOffAt === null ? `within ${book.horizonDays} days` : `for a car that comes on ${local(job.dropOffAt)}`;
  const text = `"${operation.label}" finds no place, people and hours ${when}.`;
  return { rule, field: job.dropOffAt === null ? '' : 'dropOffAt', text };
}

/**
 * Minutes by which the others are late without the job. The plan that stands does not know what the clock alone has made
 * late since; so the others are planned again from now.
 */
async function lateAnyway(deps: PlanningDeps, book: Book, job: Job): Promise<ReadonlyMap<JobId, number>> {
  const others = { ...book, jobs: book.jobs.filter((each) => each.id !== job.id) };
  const ask = { reason: 'without it', workLimit: QUICK_WORK, keepPlan: true };
  const { plan } = await draftPlan(deps, others, ask);
  return new Map(plan.jobs.map((each) => [each.jobId, each.lateMinutes]));
}

function worseThan(before: ReadonlyMap<JobId, number>, late: readonly PlannedJob[], book: Book): Objection[] {
  return late
    .filter((each) => each.lateMinutes > (before.get(each.jobId) ?? 0))
    .map((each) => {
      const other = book.jobs.find((one) => one.id === each.jobId);
      const car = other === undefined ? each.jobId : carName(other);
      const text = `${car} would be ${each.lateMinutes} minutes later than promised.`;
      return { rule: 'promiseOfOther', field: '', text };
    });
}
