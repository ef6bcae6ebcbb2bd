import type { Branch } from '../../engine/problem/problem.ts';
import type { OperationKey, TechnicianId } from '../model/ids.ts';
import { writeAir, writeStills } from './air-and-stills.ts';
import type { Releases } from './book.ts';
import { CannotPlan, type Car } from './car.ts';
import { guardCoats } from './coat-guards.ts';
import type { CoatingTimes } from './coating-times.ts';
import type { CrewNeed } from './crews.ts';
import { type Itinerary, itineraryOf } from './itinerary.ts';
import { jobTerms } from './job-terms.ts';
import { writeLags } from './lag-writer.ts';
import type { ModeMaker } from './modes.ts';
import { operationWriter, type Placing, type Written } from './operation-writer.ts';
import { instancesIn, type Order, orderOf, passedOver, without } from './order.ts';
import type { ProblemDraft } from './problem-draft.ts';
import { presentZone, type SettledWork, settle } from './settle.ts';
import { writeStays } from './stay-writer.ts';
import { type Item, itemsOf, type StepInstance } from './step-instances.ts';
import { type Window, windowsOf } from './windows.ts';

/** What one job's work has become, for those who write its lags, air and terms. */
export interface JobWork {
  readonly items: readonly Item[];
  readonly order: Order;
  readonly windows: readonly Window[];
  readonly settled: SettledWork;
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
  readonly needs: ReadonlyMap<string, readonly CrewNeed[]>;
  readonly releases: Releases;
}

/** Writes one job into the draft. @throws CannotPlan, with the field at fault. */
export function writeJob(car: Car, writing: JobWriting): void {
  const { draft, maker, times, needs, releases } = writing;
  const { frame } = car;
  noteUnknownWork(car);

  const all = itemsOf(car);
  const passed = passedOver(all, orderOf(all, car.recipe.lags));
  let items = without(all, (instance) => instance.role === 'branch' && passed.has(instance));
  let order = orderOf(items, car.recipe.lags);
  const certain = () => instancesIn(items).filter(({ role }) => role === 'sequence');
  const settled = settle(car, certain(), order, passed, times);
  const mayLapse = releases.windowsOf?.has(car.job.id) ?? false;
  let windows = windowsOf(car, order.bounds, settled, times, mayLapse);

  const rounds = (presence: 'present' | 'optional') =>
    windows.flatMap((window) =>
      window.rounds.filter((round) => round.presence === presence).flatMap((round) => round.instances),
    );
  const open = instancesIn(items).filter(({ role }) => role === 'branch');
  const route = itineraryOf(
    car,
    { certain: [...certain(), ...rounds('present')], possible: [...open, ...rounds('optional')] },
    settled,
  );
  windows = windows.map((window) => withoutLost(window, route, settled));
  for (const instance of certain()) if (route.leftBehind.has(instance)) giveUp(car, instance, settled);

  const firstStay = draft.stays.length;
  const stayOf = (instance: StepInstance) => {
    const index = route.stayOf(instance);
    return index === undefined ? undefined : firstStay + index;
  };
  const placesOf = (instance: StepInstance) => route.stays[route.stayOf(instance) ?? -1]?.places ?? [];

  // A way of curing for which there is no lamp is no choice.
  items = items.flatMap((item) => (item.kind === 'step' ? [item] : openBranch(item, (step) => canDo(step))));
  order = orderOf(items, car.recipe.lags);

  writeStays(car, route.stays, draft, maker);
  const write = operationWriter(car, draft, maker);
  const undecided = new Set(items.flatMap((item) => (item.kind === 'branch' ? item.alternatives.flat() : [])));
  const written = new Map<StepInstance, Written>();
  const terms = jobTerms(car, items, settled, route.stays, releases);
  for (const instance of instancesIn(items)) written.set(instance, write(instance, placing(instance)));
  for (const { rounds: some } of windows) {
    for (const { instances, presence } of some) {
      for (const instance of instances) {
        written.set(
          instance,
          write(instance, { ...placing(instance), presence: presence === 'present' ? 'always' : 'optional' }),
        );
      }
    }
  }

  const work: JobWork = {
    items,
    order,
    windows,
    settled,
    written,
    stayOf,
    zonesFrom: (instance) => {
      const from = Math.max(0, route.stayOf(instance) ?? 0);
      const places = route.stays.slice(from).flatMap((stay) => stay.places);
      const zones = [...new Set(places.map((place) => frame.places[place]!.zone ?? null))];
      const known = zones.filter((zone) => zone !== null);
      if (known.length > 0) return known;
      return zones.length > 0 ? zones : [presentZone(car)];
    },
  };
  writeLags(car, work, writing);
  guardCoats(car, work, writing);
  writeAir(car, work, draft);
  writeStills(car, work, draft);
  for (const item of items) if (item.kind === 'branch') draft.branches.push(branchOf(item, written));

  const index = (instance: StepInstance | undefined) =>
    instance === undefined ? undefined : written.get(instance)!.last;
  const arrival = terms.arrival && written.get(terms.arrival)!.first;
  const handover = index(terms.handover);
  const ready = index(terms.ready);
  draft.jobs.push({
    name: `${car.job.customer.name}, ${car.job.vehicle.description}`,
    stays: route.stays.map((_, k) => firstStay + k),
    release: terms.release,
    ...(terms.dropOffOpen === undefined ? {} : { dropOffOpen: terms.dropOffOpen }),
    ...(terms.pickupOpen === undefined ? {} : { pickupOpen: terms.pickupOpen }),
    ...(arrival === undefined ? {} : { arrival }),
    ...(handover === undefined ? {} : { handover }),
    ...(ready === undefined ? {} : { ready }),
    ...(terms.promise === undefined ? {} : { promise: terms.promise }),
    ...(terms.due === undefined ? {} : { due: terms.due }),
  });
  draft.formulatedJobs.push({
    job: car.job,
    recipe: car.recipe,
    visits: car.record.visits,
    ...(terms.frozenStart === undefined || arrival === undefined ? {} : { frozenDropOff: arrival }),
    ...(ready === undefined ? {} : { ready }),
    ...(handover === undefined ? {} : { handover }),
  });

  function placing(instance: StepInstance): Placing {
    const stay = stayOf(instance);
    const settledHere = settled.get(instance);
    const factWithoutCar = stay !== undefined && car.record.visits.length === 0 && instance.record !== undefined;
    return {
      stay: factWithoutCar && instance.record!.state === 'underWay' ? undefined : stay,
      places: placesOf(instance),
      presence: undecided.has(instance) ? 'optional' : 'always',
      settled: settledHere,
      alsoNeeded: needs.get(instance.step.key) ?? [],
      only: terms.onlyBy.get(instance) ?? sameAsBefore(instance),
      release: releaseOf(instance),
      frozenStart: instance === terms.arrival ? terms.frozenStart : undefined,
      since: waitingSince(instance),
    };
  }

  function releaseOf(instance: StepInstance): number | undefined {
    return instance === terms.handover ? terms.handoverRelease : undefined;
  }

  /** Those who did the first part of what the recipe wants the same people to do, if they can be there. */
  function sameAsBefore(instance: StepInstance): readonly TechnicianId[] | undefined {
    for (const { lag, from, to } of order.bounds) {
      if (to !== instance || lag.sameCrew === 'no') continue;
      const by = settled.get(from)?.by ?? from.record?.pieces.at(-1)?.by ?? [];
      const unsettled = windows.some(
        (window) => window.bound.to === to && window.rounds.some((round) => round.presence === 'present'),
      );
      if (by.length !== instance.step.crew.size || by.length === 0 || unsettled) continue;
      if (canDo(instance, by)) return by;
    }
    return undefined;
  }

  function canDo(instance: StepInstance, only?: readonly TechnicianId[]): boolean {
    const { step } = instance;
    try {
      maker.modes(car, {
        step,
        minutes: step.duration.by === 'dataSheet' ? null : instance.breakdown.minutes,
        places: placesOf(instance),
        earliest: frame.now,
        alsoNeeded: needs.get(step.key) ?? [],
        ...(only === undefined ? {} : { only }),
      });
      return true;
    } catch (error) {
      if (error instanceof CannotPlan) return false;
      throw error;
    }
  }

  /** A choice between waiting and doing is still open, but the waiting has begun when the work before it ended. */
  function waitingSince(instance: StepInstance): number | undefined {
    if (!undecided.has(instance) || instance.step.attendance.kind !== 'unattended') return undefined;
    const before = order.links.filter(({ to }) => to === instance).map(({ from }) => settled.get(from)?.end);
    const since = before.every((end) => end !== undefined) ? Math.max(...before.map((end) => end!)) : undefined;
    return since === undefined || since >= frame.now || before.length === 0 ? undefined : since;
  }

  function openBranch(item: Extract<Item, { kind: 'branch' }>, can: (instance: StepInstance) => boolean): Item[] {
    const alternatives = item.alternatives.filter((steps) =>
      steps.every((step) => !route.leftBehind.has(step) && can(step)),
    );
    if (alternatives.length === 0) {
      const names = item.alternatives.flat().map(({ step }) => `"${step.label}"`);
      throw new CannotPlan('recipeId', `Of ${item.name} nothing can be done: ${names.join(', ')}.`);
    }
    if (alternatives.length > 1) return [{ ...item, alternatives }];
    return alternatives[0]!.map((instance) => ({ kind: 'step' as const, instance }));
  }
}

function branchOf(item: Extract<Item, { kind: 'branch' }>, written: ReadonlyMap<StepInstance, Written>): Branch {
  const indices = (steps: readonly StepInstance[]) => steps.map((step) => written.get(step)!.first);
  return { name: item.name, alternatives: item.alternatives.map(indices) };
}

/** A round of which a step can no longer be done is given up. */
function withoutLost(window: Window, route: Itinerary, settled: SettledWork): Window {
  const lost = (instance: StepInstance) => route.leftBehind.has(instance) && !settled.has(instance);
  const rounds = window.rounds.filter(({ instances }) => !instances.some(lost));
  return rounds.length === window.rounds.length ? window : { ...window, rounds, given: true };
}

/** Work in a place the car has left for good counts as done, so that the rest can be planned. */
function giveUp(car: Car, instance: StepInstance, settled: SettledWork): void {
  const { axis, book } = car.frame;
  const at = axis.toMinute(car.record.visits.at(-1)?.from ?? book.now, 'floor');
  settled.set(instance, { start: at, end: at, by: [] });
  const text = `"${instance.step.label}" was not done before the car left the place for it; it is not planned any more.`;
  car.notices.push({ kind: 'passedOver', jobId: car.job.id, operation: instance.key, text });
}

function noteUnknownWork(car: Car): void {
  const keys = new Set(car.recipe.steps.map(({ key }) => key));
  for (const key of car.record.work.keys()) {
    if (keys.has(key.split('.')[0]!) || key.startsWith('move') || key.startsWith('rework')) continue;
    const text = `Work on "${key}" is recorded, which is no step of recipe "${car.recipe.name}".`;
    car.notices.push({ kind: 'unknownOperation', jobId: car.job.id, operation: key as OperationKey, text });
  }
}
