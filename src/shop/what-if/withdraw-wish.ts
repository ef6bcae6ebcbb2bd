import { StalePlan } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { JobId, OperationKey, ShopId } from '../../trade/model/ids.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { NotFound, Stale, WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import { draftBook } from './draft-wish.ts';
import { isSame, keyOf, type MovedWork, type PlanChanges, planChanges, positionOf } from './plan-changes.ts';

/** An operation that is not where it was before the wish, and why. */
export interface NotRestored extends Omit<MovedWork, 'laterMinutes'> {
  readonly why: 'begun' | 'hourPassed' | 'takenMeanwhile';
}

export interface Withdrawn extends PlanChanges {
  /** Version of the plan that was published without the wish. */
  readonly published: number;
  /** What could not be put back; empty when everything the wish moved is where it was. */
  readonly notRestored: readonly NotRestored[];
}

/**
 * Withdraws a wish: a newer plan without it, in which what the wish had moved goes back to where it was as far as facts and
 * later bookings allow. Nothing that happened is undone.
 * @throws NotFound, Stale, WrongState (the job is closed), Busy, PlanRejected
 */
export async function withdrawWish(
  deps: PlanningDeps,
  input: { shopId: ShopId; jobId: JobId; operation: OperationKey; expectedPlan: number },
): Promise<Withdrawn> {
  const { shopId, jobId, operation, expectedPlan } = input;
  const now = deps.clock();
  const { version, value } = await foundJob(deps.store, shopId, jobId);
  const wish = value.wishes?.find((each) => each.operation === operation);
  if (wish === undefined) throw new NotFound('decision of the desk about', operation, 'operation');
  const book = await loadBook(deps.store, shopId, now);
  const standing = book.previousPlan;
  if (standing?.version !== expectedPlan) throw new Stale('plan', expectedPlan, standing?.version ?? 0);
  if (!book.jobs.some(({ id }) => id === jobId)) throw new WrongState('The job is closed.', 'jobId');
  const job = { ...value, wishes: value.wishes!.filter((each) => each !== wish) };
  const before = await deps.store.plans.get(shopId, wish.planBefore);
  const after = await deps.store.plans.get(shopId, wish.planBefore + 1);
  const moved = before === null || after === null ? new Set([jobId]) : movedCars(before, after);
  const jobs = book.jobs.map((each) => (each.id === jobId ? job : each));
  const previousPlan = before === null ? standing : withPositionsOf(standing, before, moved);
  const draft = await draftBook(deps, { ...book, jobs, previousPlan });
  const plan = { ...draft.plan, reason: `withdrawn at the desk: ${carName(job)}`.slice(0, 200) };
  try {
    const published = await inShopTerms(() =>
      publish(
        deps.store,
        {
          shopId,
          plan,
          expectedVersion: standing.version,
          jobs,
          standing,
          exceptions: draft.exceptions,
          alsoWrite: async (records) => {
            await records.jobs.put(shopId, job, version);
            await tell(records, shopId, now, 'job.changed', jobId, { state: job.state });
          },
        },
        now,
      ),
    );
    const notRestored = before === null ? [] : notAsBefore(before, published, moved, book);
    return { ...planChanges(standing, published, jobs), published: published.version, notRestored };
  } catch (refusal) {
    if (refusal instanceof StalePlan) throw new Stale('plan', expectedPlan, null);
    throw refusal;
  }
}

/** Cars that the wish moved. */
function movedCars(before: Plan, after: Plan): Set<JobId> {
  const was = new Map(before.operations.map((each) => [keyOf(each), each]));
  return new Set(
    after.operations.flatMap((each) => {
      const earlier = was.get(keyOf(each));
      return earlier === undefined || isSame(earlier, each) ? [] : [each.jobId];
    }),
  );
}

/** The standing plan, some of its cars where an older plan had them. Work the older one did not know stays. */
function withPositionsOf(standing: Plan, before: Plan, cars: ReadonlySet<JobId>): Plan {
  const goesBack = (jobId: JobId) => cars.has(jobId) && before.jobs.some((each) => each.jobId === jobId);
  const known = new Set(before.operations.map(keyOf));
  return {
    ...standing,
    operations: [
      ...standing.operations.filter((each) => !goesBack(each.jobId) || !known.has(keyOf(each))),
      ...before.operations.filter(({ jobId }) => goesBack(jobId)),
    ],
    stays: [
      ...standing.stays.filter(({ jobId }) => !goesBack(jobId)),
      ...before.stays.filter(({ jobId }) => goesBack(jobId)),
    ],
  };
}

function notAsBefore(before: Plan, now: Plan, cars: ReadonlySet<JobId>, book: Book): NotRestored[] {
  const is = new Map(now.operations.map((each) => [keyOf(each), each]));
  const names = new Map(book.jobs.map((job) => [job.id, carName(job)]));
  return before.operations.flatMap((was): NotRestored[] => {
    const planned = is.get(keyOf(was));
    if (!cars.has(was.jobId) || planned === undefined || isSame(was, planned)) return [];
    const { jobId, operation, label } = was;
    const car = names.get(jobId) ?? jobId;
    const why = whyNotThere(was, planned, book);
    return [{ jobId, car, operation, label, before: positionOf(was), after: positionOf(planned), why }];
  });
}

function whyNotThere(was: PlannedOperation, planned: PlannedOperation, book: Book): NotRestored['why'] {
  if (planned.state === 'finished' || planned.state === 'underWay') return 'begun';
  return was.start < book.now ? 'hourPassed' : 'takenMeanwhile';
}
