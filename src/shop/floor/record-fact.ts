import type { Records } from '../../store/store.ts';
import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { FloorEvent, FloorFact, Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { Invalid, NotFound } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { raiseException } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';
import type { AlsoAnswer } from '../requests/answer-once.ts';
import { arrivalByMove } from './arrival-by-move.ts';
import { comingAndGoing, tellsGone, tellsHere } from './coming-and-going.ts';
import { factAgainstRules } from './fact-against-rules.ts';
import { stepOf } from './recipe-step.ts';

export interface RecordFact {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  /** Made by the device; sent twice it is one fact. */
  readonly clientId: string;
  /** When it happened; may be earlier than what is recorded already. */
  readonly occurredAt: Instant;
  readonly fact: FloorFact;
}

export interface Recorded {
  readonly event: FloorEvent;
  /** False when this clientId was recorded before: nothing was done again. */
  readonly fresh: boolean;
  /** What of it stands against a rule or an earlier fact; the desk is told too. */
  readonly exceptions: readonly string[];
}

/** Devices' clocks stray; what lies further ahead than this cannot have happened. */
const CLOCK_STRAYS_MS = 2 * 60_000;

/**
 * Records what has happened, even when it broke a rule: that becomes an exception for the desk. A plan made with
 * it follows by itself (see `Replanner`). `mustStillHold` is asked in the transaction, before anything is written, and throws when
 * what the caller found before does not hold any more.
 * @throws NotFound (job), Invalid (occurredAt in the future, operation or place unknown)
 */
export async function recordFact(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  input: RecordFact,
  alsoAnswer?: AlsoAnswer<Recorded>,
  mustStillHold: (records: Records) => Promise<void> = async () => {},
): Promise<Recorded> {
  const now = deps.clock();
  if (input.occurredAt > now + CLOCK_STRAYS_MS) {
    throw new Invalid('It cannot have happened in the future.', 'occurredAt');
  }
  const occurredAt = Math.min(input.occurredAt, now) as Instant;
  const { shopId, jobId, clientId, fact } = input;
  const told = { jobId, clientId, occurredAt, recordedAt: now, fact };
  const answered = async (records: Records, result: Recorded) => {
    await alsoAnswer?.(records, result);
    return result;
  };
  const recorded = await inShopTerms(async () => {
    const known = await foundJob(deps.store, shopId, jobId);
    await mustBeKnown(deps.store, shopId, known.value, fact);
    // Judged before the transaction, which is to be short; a fact told in this very moment is judged by its own recording.
    const exceptions = await factAgainstRules(deps.store, shopId, known.value, told);
    return deps.store.transaction(shopId, async (records) => {
      await mustStillHold(records);
      const { event, repeated } = await records.floorEvents.append(shopId, told);
      if (repeated) return answered(records, { event, fresh: false, exceptions: [] });
      const arrival = await arrivalByMove(records, shopId, told);
      if (arrival !== null) await records.floorEvents.append(shopId, arrival);
      await changeJob(records, shopId, told, now);
      for (const text of exceptions) {
        await raiseException(records, shopId, now, {
          kind: 'factAgainstRule',
          jobId,
          cause: `${clientId} ${text}`,
          text,
        });
      }
      await tell(records, shopId, now, 'fact.recorded', jobId, { fact, occurredAt, exceptions });
      return answered(records, { event, fresh: true, exceptions });
    });
  });
  if (recorded.fresh && input.fact.kind !== 'noted') deps.replanner.ask(input.shopId, `floor: ${input.fact.kind}`);
  return recorded;
}

type Told = Pick<FloorEvent, 'jobId' | 'fact' | 'occurredAt'>;

/** Makes the job what it is after a fact was recorded; of most facts that is what it was. */
async function changeJob(records: Records, shopId: ShopId, told: Told, now: Instant): Promise<void> {
  const { fact, jobId } = told;
  if (!tellsHere(fact) && fact.kind !== 'pickedUp' && fact.kind !== 'finished') return;
  const { value: job, version } = await foundJob(records, shopId, jobId);
  const changed = await jobAfter(records, shopId, job, told);
  if (changed === null) return;
  await records.jobs.put(shopId, changed, version);
  await tell(records, shopId, now, 'job.changed', jobId, { state: changed.state });
}

/** The job after a fact that tells of its coming or going; null when the fact leaves it as it is. */
async function jobAfter(records: Records, shopId: ShopId, job: Job, { fact, occurredAt }: Told): Promise<Job | null> {
  const isHere = tellsHere(fact);
  const recipe = (await records.recipes.get(shopId, job.recipeId))?.value ?? null;
  const isGone = tellsGone(fact, recipe);
  if (!isGone && !(isHere && (job.state !== 'inShop' || job.cameAt === undefined || occurredAt < job.cameAt)))
    return null;
  const times = comingAndGoing(await records.floorEvents.listByJob(shopId, job.id), recipe);
  const state = stateAfter(job, isGone);
  if (state === job.state && times.cameAt === job.cameAt && times.leftAt === job.leftAt) return null;
  const dropOffAt = isHere && state !== job.state ? (job.dropOffAt ?? occurredAt) : job.dropOffAt;
  return { ...job, ...times, state, holdUntil: state === job.state ? job.holdUntil : null, dropOffAt };
}

/** A finished handover closes a job as a pickup does. A closed job whose car is here is open again, but for one that is done. */
function stateAfter({ state }: Job, isGone: boolean): Job['state'] {
  return isGone || state === 'done' ? 'done' : 'inShop';
}

async function mustBeKnown(records: Records, shopId: ShopId, job: Job, fact: FloorFact): Promise<void> {
  if ('placeId' in fact && (await records.places.get(shopId, fact.placeId)) === null) {
    throw new NotFound('place', fact.placeId, 'fact.placeId');
  }
  const people: readonly TechnicianId[] = 'by' in fact ? fact.by : 'to' in fact ? fact.to : [];
  for (const id of people) {
    if ((await records.technicians.get(shopId, id)) === null) {
      throw new NotFound('technician', id, fact.kind === 'handedOver' ? 'fact.to' : 'fact.by');
    }
  }
  if ('operation' in fact && fact.operation !== null) await operationMustBeKnown(records, shopId, job, fact.operation);
}

async function operationMustBeKnown(
  records: Records,
  shopId: ShopId,
  job: Job,
  operation: OperationKey,
): Promise<void> {
  const recipe = await records.recipes.get(shopId, job.recipeId);
  if (recipe !== null && stepOf(recipe.value, operation) !== null) return;
  const planned = await records.plans.job(shopId, job.id);
  if (planned?.operations.some((each) => each.operation === operation)) return;
  throw new Invalid(`The job has no operation "${operation}".`, 'fact.operation');
}
