import type { Branch } from '../../engine/problem/problem.ts';
import { writeAir, writeStills } from './air-and-stills.ts';
import type { Releases } from './book.ts';
import type { Car } from './car.ts';
import { guardCoats } from './coat-guards.ts';
import type { CoatingTimes } from './coating-times.ts';
import type { CrewNeed } from './crews.ts';
import type { Item } from './items.ts';
import type { Itinerary } from './itinerary.ts';
import { jobTerms } from './job-terms.ts';
import { writeLags } from './lag-writer.ts';
import type { ModeMaker } from './modes.ts';
import { operationWriter, type Written } from './operation-writer.ts';
import { instancesIn } from './order.ts';
import { canBeDone, placer } from './placing.ts';
import type { ProblemDraft } from './problem-draft.ts';
import { presentZone } from './settle.ts';
import { writeStays } from './stay-writer.ts';
import type { StepInstance } from './step-instance.ts';
import { type WorkAhead, workAhead } from './work-ahead.ts';

/** What one job's work has become, for those who write its lags and air. */
export interface JobWork extends WorkAhead {
  readonly written: ReadonlyMap<StepInstance, Written>;
  /** Index into the problem's stays of the stay an instance is done in. */
  stayOf(instance: StepInstance): number | undefined;
  /** Air zones a car may be in from this instance on. */
  zonesFrom(instance: StepInstance): readonly (number | null)[];
}

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
  const { items, windows, settled, route } = ahead;
  const firstStay = draft.stays.length;
  const terms = jobTerms(car, items, settled, route.stays, releases);
  writeStays(car, route.stays, draft, maker, releases);

  const place = placer(car, ahead, terms, maker, needs, firstStay);
  const write = operationWriter(car, draft, maker);
  const written = new Map<StepInstance, Written>();
  for (const instance of instancesIn(items)) written.set(instance, write(instance, place(instance)));
  for (const { rounds } of windows) {
    for (const { instances } of rounds) {
      for (const instance of instances) written.set(instance, write(instance, place(instance)));
    }
  }

  const stayOf = (instance: StepInstance) => {
    const index = route.stayOf(instance);
    return index === undefined ? undefined : firstStay + index;
  };
  const work: JobWork = { ...ahead, written, stayOf, zonesFrom: zonesAhead(car, route) };
  writeLags(car, work, writing);
  guardCoats(car, work, writing);
  writeAir(car, work, draft);
  writeStills(car, work, draft);
  for (const item of items) if (item.kind === 'branch') draft.branches.push(branchOf(item, written));

  const endOf = (instance: StepInstance | undefined) =>
    instance === undefined ? undefined : written.get(instance)!.last;
  const arrival = terms.arrival === undefined ? undefined : written.get(terms.arrival)!.first;
  const { release, dropOffOpen, pickupOpen, promise, due } = terms;
  const roles = { arrival, handover: endOf(terms.handover), ready: endOf(terms.ready) };
  draft.jobs.push({
    name: `${car.job.customer.name}, ${car.job.vehicle.description}`,
    stays: route.stays.map((_, k) => firstStay + k),
    release,
    ...withoutUndefined({ dropOffOpen, pickupOpen, promise, due, ...roles }),
  });
  draft.formulatedJobs.push({
    job: car.job,
    recipe: car.recipe,
    visits: car.record.visits,
    ...withoutUndefined({
      frozenDropOff: terms.frozenStart === undefined ? undefined : arrival,
      handover: roles.handover,
      ready: roles.ready,
    }),
  });
}

/** Zones of the present and all later stays; where some are known, the unknown air of the others is left out. */
function zonesAhead(car: Car, route: Itinerary): JobWork['zonesFrom'] {
  const known = new Map<number, readonly (number | null)[]>();
  return (instance) => {
    const from = route.stayOf(instance) ?? 0;
    let zones = known.get(from);
    if (zones === undefined) {
      const places = new Set(route.stays.slice(from).flatMap((stay) => stay.places));
      const all = [...new Set([...places].map((place) => car.frame.places[place]!.zone ?? null))];
      const named = all.filter((zone) => zone !== null);
      zones = named.length > 0 ? named : all.length > 0 ? all : [presentZone(car)];
      known.set(from, zones);
    }
    return zones;
  };
}

function branchOf(item: Extract<Item, { kind: 'branch' }>, written: ReadonlyMap<StepInstance, Written>): Branch {
  const indices = (steps: readonly StepInstance[]) => steps.map((step) => written.get(step)!.first);
  return { name: item.name, alternatives: item.alternatives.map(indices) };
}

type Defined<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** The problem's optional fields are absent, not undefined. */
function withoutUndefined<T extends object>(fields: T): Defined<T> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Defined<T>;
}
