import type { RecipeLag, RecipeStep } from '../model/recipe.ts';
import type { Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import { lagMinutes } from './lag-minutes.ts';
import type { BoundLag } from './order.ts';
import {
  edgeMinute,
  isUnattended,
  overByHandover,
  presentZone,
  recordedWork,
  type SettledWork,
  unattendedEnd,
} from './settle.ts';
import { hasBegun, instanceOf, type StepInstance } from './step-instance.ts';

/** One run through the remedy of a window. */
export interface Round {
  readonly instances: readonly StepInstance[];
  /** `present`: the floor has begun it, or the window has lapsed. `optional`: only if the plan lets the window lapse. */
  readonly presence: 'present' | 'optional';
}

/** A maximum lag and what has been or may be done to make it good, in order. */
export interface Window {
  readonly bound: BoundLag;
  readonly rounds: readonly Round[];
  /** The maximum has lapsed and the recipe knows no remedy: nothing is left to keep. */
  readonly given: boolean;
}

/** Which windows that run on the floor a plan may let lapse. */
export interface MayLapse {
  /** Those the recipe has no remedy for. */
  readonly lost: boolean;
  /** Those that people are held for by the car, and whose remedy would come in. */
  readonly held: boolean;
}

/**
 * The windows of a car's recipe. A remedy that the floor has done counts, and the maximum runs anew from its end. A
 * window that has lapsed before now brings its remedy into the plan; one that is still open may be let lapse by the
 * plan, once more, unless people are held by the car for it and it does not run yet, or must be kept. The rounds' own facts are
 * added to `settled`.
 */
export function windowsOf(
  car: Car,
  bounds: readonly BoundLag[],
  settled: SettledWork,
  times: CoatingTimes,
  mayLapse: MayLapse,
): Window[] {
  const windows: Window[] = [];
  for (const bound of bounds) {
    if (bound.lag.max !== null) windows.push(windowOf(car, bound, settled, times, mayLapse));
  }
  return windows;
}

function windowOf(car: Car, bound: BoundLag, settled: SettledWork, times: CoatingTimes, mayLapse: MayLapse): Window {
  const { lag, from, to } = bound;
  const steps = remedySteps(car, lag);
  const rounds: Round[] = [];
  let since = edgeMinute(car, from, lag.from.edge, settled);
  let instances = roundOf(car, bound, steps, 1);
  while (instances.some(hasBegun)) {
    settleRound(car, instances, settled, times);
    rounds.push({ instances, presence: 'present' });
    since = edgeMinute(car, instances.at(-1)!, 'end', settled);
    instances = roundOf(car, bound, steps, rounds.length + 1);
  }
  const begun = hasBegun(to) || settled.has(to);
  if (begun) return { bound, rounds, given: false };
  const lapsed = since !== undefined && hasLapsed(car, bound, since, times);
  if (lapsed) {
    const what =
      steps.length > 0 ? `${steps.map(({ label }) => `"${label}"`).join(', ')} comes in` : 'the recipe has no remedy';
    const text = `The window from "${from.step.label}" to "${to.step.label}" has lapsed: ${what}.`;
    car.notices.push({ kind: 'lapsedWindow', jobId: car.job.id, operation: to.key, text });
  }
  // Whoever is held for what follows stands by the car: nobody plans to let that window lapse.
  const runs = hasBegun(from) || settled.has(from);
  const standsBy = lag.sameCrew === 'held' && rounds.length === 0 && !lapsed && !(runs && mayLapse.held);
  if (steps.length > 0 && !standsBy) rounds.push({ instances, presence: lapsed ? 'present' : 'optional' });
  return { bound, rounds, given: steps.length === 0 && (lapsed || (mayLapse.lost && since !== undefined)) };
}

function remedySteps({ recipe }: Car, { remedy }: RecipeLag): RecipeStep[] {
  const steps: RecipeStep[] = [];
  for (const key of remedy) {
    const step = recipe.steps.find((one) => one.key === key);
    if (step !== undefined) steps.push(step);
  }
  return steps;
}

/** The remedy as it is gone through for the `number`-th time. */
function roundOf(car: Car, { lag, to }: BoundLag, steps: readonly RecipeStep[], number: number): StepInstance[] {
  const shared = isShared(car, lag);
  const instances: StepInstance[] = [];
  for (const step of steps) {
    const base = shared ? `${step.key}.${to.step.key}` : step.key;
    instances.push(instanceOf(car, step, number === 1 ? base : `${base}.${number}`, 'remedy'));
  }
  return instances;
}

/** Whether another lag has a remedy step in common. */
function isShared({ recipe }: Car, lag: RecipeLag): boolean {
  for (const other of recipe.lags) {
    if (other === lag) continue;
    for (const key of other.remedy) if (lag.remedy.includes(key)) return true;
  }
  return false;
}

/** Within a round that has begun, unattended work follows by itself. */
function settleRound(car: Car, instances: readonly StepInstance[], settled: SettledWork, times: CoatingTimes): void {
  const { now } = car.frame;
  let before: number | undefined;
  for (const [k, instance] of instances.entries()) {
    const later = instances.slice(k + 1).find(hasBegun);
    const latest = later && edgeMinute(car, later, 'start', settled);
    const done = recordedWork(car, instance) ?? overByHandover(car, instance);
    if (done !== undefined) settled.set(instance, done);
    else if (isUnattended(instance) && before !== undefined && before <= now) {
      const end = Math.min(unattendedEnd(car, instance, before, times), latest ?? Number.POSITIVE_INFINITY);
      settled.set(instance, { start: Math.min(before, end), end, by: [] });
    } else if (latest !== undefined && !hasBegun(instance)) {
      settled.set(instance, { start: latest, end: latest, by: [] });
    }
    before = settled.get(instance)?.end;
  }
}

function hasLapsed(car: Car, bound: BoundLag, since: number, times: CoatingTimes): boolean {
  const { lag, to } = bound;
  const most = lagMinutes(car, times, bound, 'max', [presentZone(car)], since);
  const work = lag.to.edge === 'end' ? to.breakdown.minutes : 0;
  return car.frame.now + work > since + most;
}
