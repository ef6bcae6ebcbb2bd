import type { Job as ProblemJob } from '../../engine/problem/problem.ts';
import { writeAir, writeStills } from './air-and-stills.ts';
import type { Releases } from './book.ts';
import type { Car } from './car.ts';
import { guardCoats } from './coat-guards.ts';
import type { CoatingTimes } from './coating-times.ts';
import type { CrewNeed } from './crews.ts';
import type { FormulatedJob } from './formulation.ts';
import { type JobTerms, jobTerms } from './job-terms.ts';
import { JobWork } from './job-work.ts';
import { writeLags } from './lag-writer.ts';
import type { ModeMaker } from './modes.ts';
import { OperationWriter, type Written } from './operation-writer.ts';
import { instancesIn } from './order.ts';
import { Placer } from './placer.ts';
import { canBeDone } from './placing.ts';
import type { ProblemDraft } from './problem-draft.ts';
import { writeStays } from './stay-writer.ts';
import type { StepInstance } from './step-instance.ts';
import { type WorkAhead, workAhead } from './work-ahead.ts';

export interface JobWriting {
  readonly draft: ProblemDraft;
  readonly maker: ModeMaker;
  readonly times: CoatingTimes;
  /** By step: what else its people must be able to do. */
  readonly needs: ReadonlyMap<string, readonly CrewNeed[]>;
  readonly releases: Releases;
}

/** Writes one job into the draft. @throws CannotPlan, with the field at fault. */
export function writeJob(car: Car, writing: JobWriting): void {
  const { draft, maker, times, needs, releases } = writing;
  const ahead = workAhead(car, times, releases, (instance, places) =>
    canBeDone(car, maker, needs.get(instance.step.key) ?? [], instance, places),
  );
  const { stays } = ahead.route;
  const firstStay = draft.stays.length;
  const terms = jobTerms(car, ahead.items, ahead.settled, stays, releases);
  writeStays(car, stays, draft, maker, releases);
  const written = writeOperations(car, ahead, writing, new Placer(car, ahead, terms, maker, needs, firstStay));
  const work = new JobWork(car, ahead, written, firstStay);
  writeLags(car, work, writing);
  guardCoats(car, work, writing);
  writeAir(car, work, draft);
  writeStills(car, work, draft);
  draft.branches.push(...work.branches());
  draft.jobs.push(problemJob(car, terms, written, firstStay, stays.length));
  draft.formulatedJobs.push(formulatedJob(car, terms, written));
}

/** Writes all work of the job, its remedies last. */
function writeOperations(
  car: Car,
  { items, windows }: WorkAhead,
  { draft, maker }: JobWriting,
  placer: Placer,
): Map<StepInstance, Written> {
  const writer = new OperationWriter(car, draft, maker);
  const written = new Map<StepInstance, Written>();
  for (const instance of instancesIn(items)) written.set(instance, writer.write(instance, placer.placingOf(instance)));
  for (const { rounds } of windows) {
    for (const { instances } of rounds) {
      for (const instance of instances) written.set(instance, writer.write(instance, placer.placingOf(instance)));
    }
  }
  return written;
}

type AllWritten = ReadonlyMap<StepInstance, Written>;

function problemJob(car: Car, terms: JobTerms, written: AllWritten, firstStay: number, stays: number): ProblemJob {
  const { customer, vehicle } = car.job;
  const { release, dropOffOpen, pickupOpen, promise, due } = terms;
  return {
    name: `${customer.name}, ${vehicle.description}`,
    stays: numbersFrom(firstStay, stays),
    release,
    ...withoutUndefined({
      dropOffOpen,
      pickupOpen,
      promise,
      due,
      arrival: firstOf(written, terms.arrival),
      handover: lastOf(written, terms.handover),
      ready: lastOf(written, terms.ready),
    }),
  };
}

function formulatedJob({ job, recipe, record }: Car, terms: JobTerms, written: AllWritten): FormulatedJob {
  return {
    job,
    recipe,
    visits: record.visits,
    ...withoutUndefined({
      frozenDropOff: terms.frozenStart === undefined ? undefined : firstOf(written, terms.arrival),
      handover: lastOf(written, terms.handover),
      ready: lastOf(written, terms.ready),
    }),
  };
}

function numbersFrom(first: number, count: number): number[] {
  const numbers: number[] = [];
  for (let k = 0; k < count; k++) numbers.push(first + k);
  return numbers;
}

/** The operation that holds the start of an instance. */
function firstOf(written: AllWritten, instance: StepInstance | undefined): number | undefined {
  return instance === undefined ? undefined : written.get(instance)!.first;
}

/** The operation that holds the end of an instance. */
function lastOf(written: AllWritten, instance: StepInstance | undefined): number | undefined {
  return instance === undefined ? undefined : written.get(instance)!.last;
}

type Defined<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** The problem's optional fields are absent, not undefined. */
function withoutUndefined<T extends object>(fields: T): Defined<T> {
  const defined: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(fields)) if (value !== undefined) defined[name] = value;
  return defined as Defined<T>;
}
