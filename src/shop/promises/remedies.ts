import { StalePlan } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { findJob } from '../jobs/find-job.ts';
import { carName, type JobView } from '../jobs/job-view.ts';
import type { Draft } from '../planning/drafter.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { Busy, NotFound, PlanRejected, Refused, Stale, WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import { draftBook } from '../what-if/draft-wish.ts';
import { withLessons } from './floor-lessons.ts';
import { outlookOf } from './outlooks.ts';
import type { CarForecast, PlanOutlook } from './plan-outlook.ts';
import type { Remedies, Remedy, RemedyCost } from './promise-views.ts';
import { type Endangered, type RemedyVariant, remedyVariants } from './remedy-variants.ts';

/** A remedy that helps by less is none. */
const WORTH_POINTS = 3;
/** Another promise that loses less is not told of: it is the simulation's grain. */
const FELT_POINTS = 1;
/** Of several people who could take over, the surest is told. */
const MOST_PEOPLE_TOLD = 1;

interface Tried {
  readonly variant: RemedyVariant;
  readonly draft: Draft;
  readonly remedy: Remedy;
}

/**
 * What could be done about a promise: each remedy planned and checked off this thread, then simulated, with what it costs
 * the other promises. Nothing is changed. @throws NotFound (shop, job), WrongState (no promise to keep), Busy
 */
export async function remediesFor(
  deps: PlanningDeps,
  { shopId, jobId }: { readonly shopId: ShopId; readonly jobId: JobId },
): Promise<Remedies> {
  const { endangered, before } = await endangeredPromise(deps, shopId, jobId);
  const tried: Tried[] = [];
  for (const variant of remedyVariants(endangered)) {
    const one = await tryOut(deps, endangered, before, variant);
    if (one !== null) tried.push(one);
  }
  const { job, book, forecast } = endangered;
  const bySureness = tried.map(({ remedy }) => remedy).sort((a, b) => b.percentWith - a.percentWith);
  const people = bySureness.filter(({ kind }) => kind === 'anotherPerson').slice(0, MOST_PEOPLE_TOLD);
  return {
    jobId,
    car: carName(job),
    customer: job.customer.name,
    promisedPickupAt: job.promise.pickupAt,
    probabilityPercent: forecast.probabilityPercent,
    planVersion: book.previousPlan!.version,
    blame: forecast.blame,
    remedies: bySureness.filter((each) => each.kind !== 'anotherPerson' || people.includes(each)),
  };
}

/**
 * Does a remedy: planned once more from the plan it was looked for in, published with what it changes, and noted on the
 * car. @param by whoever decided it. @throws NotFound, Stale (another plan came first), WrongState, Refused, Busy
 */
export async function applyRemedy(
  deps: PlanningDeps,
  input: {
    readonly shopId: ShopId;
    readonly jobId: JobId;
    readonly key: string;
    readonly planVersion: number;
    readonly by: string;
  },
): Promise<JobView> {
  const { shopId, jobId, key, planVersion, by } = input;
  const { endangered, before } = await endangeredPromise(deps, shopId, jobId);
  const { book, forecast } = endangered;
  const current = book.previousPlan!.version;
  if (current !== planVersion) throw new Stale('plan', planVersion, current);
  const variant = remedyVariants(endangered).find((each) => each.key === key);
  if (variant === undefined) throw new NotFound('remedy', key, 'key');
  const tried = await tryOut(deps, endangered, before, variant);
  if (tried === null) throw new Refused('It does not help any more; look for remedies again.', []);
  const { draft, remedy } = tried;
  const now = deps.clock();
  const { version } = await foundJob(deps.store, shopId, jobId);
  const change = `${forecast.probabilityPercent} % before, ${remedy.percentWith} % with it`;
  const text = `${by} decided: ${variant.text} Ready for its pickup with ${change}.`.slice(0, 2000);
  try {
    await inShopTerms(() =>
      publish(
        deps.store,
        {
          shopId,
          plan: { ...draft.plan, reason: `remedy: ${variant.text}`.slice(0, 200) },
          expectedVersion: current,
          jobs: variant.book.jobs,
          standing: book.previousPlan,
          exceptions: draft.exceptions,
          alsoWrite: async (records) => {
            if (variant.job !== endangered.job) await records.jobs.put(shopId, variant.job, version);
            for (const person of variant.technicians) {
              const found = await records.technicians.get(shopId, person.id);
              if (found !== null) await records.technicians.put(shopId, person, found.version);
            }
            await records.floorEvents.append(shopId, {
              jobId,
              clientId: `remedy-${deps.newId()}`.slice(0, 64),
              occurredAt: now,
              recordedAt: now,
              fact: { kind: 'noted', operation: null, text },
            });
            const { state } = variant.job;
            await tell(records, shopId, now, 'job.changed', jobId, { state, remedy: variant.kind, by });
          },
        },
        now,
      ),
    );
  } catch (refusal) {
    if (refusal instanceof StalePlan) throw new Stale('plan', planVersion, null);
    throw refusal;
  }
  return findJob(deps, { shopId, jobId });
}

async function endangeredPromise(
  deps: PlanningDeps,
  shopId: ShopId,
  jobId: JobId,
): Promise<{ readonly endangered: Endangered; readonly before: PlanOutlook }> {
  const book = await withLessons(deps.store, await loadBook(deps.store, shopId, deps.clock()));
  await foundJob(deps.store, shopId, jobId);
  const job = book.jobs.find(({ id }) => id === jobId);
  const { previousPlan } = book;
  if (job?.promise == null || previousPlan === null) {
    throw new WrongState('There is no promise of this car still to be kept.', 'jobId');
  }
  const before = await outlookOf(deps, book, ALL_DAYS);
  const forecast = before.cars.find((car) => car.jobId === jobId);
  if (forecast === undefined) throw new WrongState('The car is in no plan.', 'jobId');
  const ahead = previousPlan.operations.filter((each) => each.jobId === jobId && each.state === 'planned');
  return { endangered: { book, job: { ...job, promise: job.promise }, ahead, forecast }, before };
}

const ALL_DAYS = 400;

/** Plans and simulates a remedy; null when no plan holds it or it does not help. */
async function tryOut(
  deps: PlanningDeps,
  { book, job, forecast }: Endangered,
  before: PlanOutlook,
  variant: RemedyVariant,
): Promise<Tried | null> {
  let draft: Draft;
  try {
    draft = await draftBook(deps, variant.book, { reason: 'remedy', workLimit: deps.budget.promptWork });
  } catch (problem) {
    if (problem instanceof Busy || problem instanceof PlanRejected) return null;
    throw problem;
  }
  const after = await outlookOf(deps, { ...variant.book, previousPlan: draft.plan }, ALL_DAYS);
  const own = after.cars.find(({ jobId }) => jobId === job.id);
  if (own === undefined || own.probabilityPercent < forecast.probabilityPercent + WORTH_POINTS) return null;
  const promise = variant.job.promise ?? job.promise;
  // A new promise says how sure it is in the plan that is made with it.
  const sure = promise === job.promise ? promise : { ...promise, confidencePercent: own.probabilityPercent };
  const remedy: Remedy = {
    key: variant.key,
    kind: variant.kind,
    text: variant.text,
    changes: changesBetween(book, draft.plan, job.id),
    pickupAt: promise.pickupAt,
    percentWith: own.probabilityPercent,
    overtimeMinutes: variant.overtimeMinutes,
    costs: costsOf(book, before, after, job.id),
  };
  const kept = sure === job.promise ? variant.job : { ...variant.job, promise: sure };
  return { variant: { ...variant, job: variant.job === job ? job : kept }, draft, remedy };
}

function costsOf(book: Book, before: PlanOutlook, after: PlanOutlook, jobId: JobId): RemedyCost[] {
  const with_ = new Map<JobId, CarForecast>(after.cars.map((car) => [car.jobId, car]));
  return before.cars
    .flatMap((car): RemedyCost[] => {
      const then = with_.get(car.jobId);
      const other = book.jobs.find(({ id }) => id === car.jobId);
      if (then === undefined || other?.promise == null || car.jobId === jobId) return [];
      if (then.probabilityPercent > car.probabilityPercent - FELT_POINTS) return [];
      return [
        {
          jobId: car.jobId,
          car: carName(other),
          customer: other.customer.name,
          promisedPickupAt: other.promise.pickupAt,
          percentBefore: car.probabilityPercent,
          percentAfter: then.probabilityPercent,
          minutesLater: Math.round((then.medianReadyAt - car.medianReadyAt) / 60_000),
        },
      ];
    })
    .sort((a, b) => a.percentAfter - a.percentBefore - (b.percentAfter - b.percentBefore));
}

const MOST_CHANGES = 6;

/** What moves, a sentence each: the car's own work first. */
function changesBetween(book: Book, plan: Plan, jobId: JobId): string[] {
  const was = new Map(book.previousPlan?.operations.map((each) => [`${each.jobId} ${each.operation}`, each]));
  const nameOf = new Map<string, string>(book.technicians.map(({ id, name }) => [id, name]));
  const names = (people: readonly string[]) => people.map((id) => nameOf.get(id) ?? id).join(', ');
  const changes = plan.operations.flatMap((now) => {
    const then = was.get(`${now.jobId} ${now.operation}`);
    const job = book.jobs.find(({ id }) => id === now.jobId);
    if (job === undefined || now.kind === 'move' || now.people.join() === then?.people.join()) return [];
    if (now.people.length === 0 || now.jobId === undefined) return [];
    const instead = then === undefined || then.people.length === 0 ? '' : ` instead of ${names(then.people)}`;
    return [{ own: now.jobId === jobId, text: `${carName(job)}: "${now.label}" by ${names(now.people)}${instead}.` }];
  });
  return [...changes.filter(({ own }) => own), ...changes.filter(({ own }) => !own)]
    .slice(0, MOST_CHANGES)
    .map(({ text }) => text);
}
