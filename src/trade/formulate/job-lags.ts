import type { Edge, Lag } from '../../engine/problem/problem.ts';
import type { RecipeLag } from '../model/recipe.ts';
import type { Car } from './car.ts';
import type { JobWork } from './job-work.ts';
import type { JobWriting } from './job-writer.ts';
import { lagMinutes } from './lag-minutes.ts';
import { edgeMinute } from './settle.ts';
import type { StepInstance } from './step-instance.ts';

/** What a lag may say beside its minimum. */
type MoreOfLag = Pick<Lag, 'max' | 'remedy' | 'guards'>;

/** The lags of one job as they come into the draft. Nothing is demanded of a fact: a lag that leads to one is left out. */
export class JobLags {
  readonly work: JobWork;
  readonly #car: Car;
  readonly #writing: JobWriting;

  constructor(car: Car, work: JobWork, writing: JobWriting) {
    this.work = work;
    this.#car = car;
    this.#writing = writing;
  }

  push(from: StepInstance, fromEdge: Edge, to: StepInstance, toEdge: Edge, min: number, more?: MoreOfLag): void {
    const { operations, lags } = this.#writing.draft;
    const second = this.#at(to, toEdge);
    if (operations[second.operation]!.fixed?.by === 'fact') return;
    lags.push({ from: this.#at(from, fromEdge), to: second, min, ...more });
  }

  /** Minutes of a lag of the recipe, from when its beginning was if that is known. */
  minutes(lag: RecipeLag, from: StepInstance, to: StepInstance, which: 'min' | 'max', edge: Edge): number {
    const since = edgeMinute(this.#car, from, edge, this.work.settled);
    return lagMinutes(this.#car, this.#writing.times, { lag, from, to }, which, this.work.zonesFrom(from), since);
  }

  /** The recipe's own lag between two steps, when it has one. */
  stated(from: StepInstance, to: StepInstance): RecipeLag | undefined {
    for (const lag of this.#car.recipe.lags) {
      if (lag.from.step === from.step.key && lag.to.step === to.step.key) return lag;
    }
    return undefined;
  }

  /** Whether the plan may leave some of these out. */
  hasOptional(instances: readonly StepInstance[]): boolean {
    const { operations } = this.#writing.draft;
    for (const instance of instances) {
      if (operations[this.work.written.get(instance)!.last]!.presence === 'optional') return true;
    }
    return false;
  }

  #at(instance: StepInstance, edge: Edge): Lag['from'] {
    const { first, last } = this.work.written.get(instance)!;
    return { operation: edge === 'start' ? first : last, edge };
  }
}

/** What of the coating's data sheet a lag of the recipe keeps. */
export function guards(lag: RecipeLag): Pick<Lag, 'guards'> {
  if (lag.min.by !== 'dataSheet') return {};
  if (lag.min.item === 'waterSafe') return { guards: 'water-safe' };
  return lag.min.item === 'releaseSafe' ? { guards: 'release-safe' } : {};
}
