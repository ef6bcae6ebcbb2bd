import type { BlameTally, JobBlame } from '../blame/blame-tally.ts';
import type { CompiledPlan } from './compile-plan.ts';
import { leavingNode } from './plan-nodes.ts';
import type { Replay } from './replay.ts';
import { sampleQuantile, shareWithin } from './sample-quantile.ts';

/** Percent levels at which quantiles are given. */
export const QUANTILE_PERCENTS = [5, 10, 25, 50, 75, 80, 90, 95, 99] as const;

/** When a job is ready and picked up, over all scenarios, in minutes of the problem's axis. */
export interface JobOutlook {
  /** By entry of `QUANTILE_PERCENTS`. */
  readonly readyQuantiles: readonly number[];
  readonly pickupQuantiles: readonly number[];
  /** Ascending, one value a scenario; beyond the horizon means it was not done within the calendars given. */
  readonly ready: Int32Array;
  readonly pickup: Int32Array;
  /** Probability that the promise is kept; null without one. */
  readonly promiseKept: number | null;
  /** Probability that it is not ready within the horizon. */
  readonly beyondHorizon: number;
  /** What to blame when pickup is later than promised (without a promise: than wanted, or else than planned). */
  readonly blame: JobBlame;
}

/** What becomes of one job, scenario by scenario. */
export class JobRecord {
  readonly job: number;
  readonly #plan: CompiledPlan;
  readonly #ready: Int32Array;
  readonly #pickup: Int32Array;
  readonly #readyNode: number;
  readonly #pickupNode: number;
  /** It is late when it comes after this minute. */
  readonly #limit: number;
  readonly #byReady: boolean;

  /** @param byReady whether a promise is kept when the car is ready; else when it is picked up. */
  constructor(plan: CompiledPlan, job: number, scenarios: number, byReady: boolean) {
    const { problem, start } = plan.nodes;
    const { ready, handover, promise, due } = problem.jobs[job]!;
    this.#plan = plan;
    this.job = job;
    this.#ready = new Int32Array(scenarios);
    this.#pickup = new Int32Array(scenarios);
    this.#readyNode = ready ?? leavingNode(problem, job);
    this.#pickupNode = handover ?? leavingNode(problem, job);
    this.#limit = promise?.at ?? due?.at ?? start[this.#pickupNode]!;
    this.#byReady = byReady;
  }

  /** Writes down the scenario that was carried out last. */
  note(replay: Replay, scenario: number, tally: BlameTally): void {
    const ready = replay.end[this.#readyNode]!;
    const pickedUp = replay.start[this.#pickupNode]!;
    this.#ready[scenario] = ready;
    this.#pickup[scenario] = pickedUp;
    if ((this.#byReady ? ready : pickedUp) <= this.#limit) return;
    tally.blame(replay, this.job, this.#byReady ? this.#readyNode : this.#pickupNode, this.#byReady);
  }

  /** Of the first so many scenarios. */
  outlook(scenarios: number, blame: JobBlame): JobOutlook {
    const { horizon, jobs } = this.#plan.nodes.problem;
    const { promise } = jobs[this.job]!;
    const ready = this.#ready.slice(0, scenarios).sort();
    const pickup = this.#pickup.slice(0, scenarios).sort();
    return {
      readyQuantiles: quantilesOf(ready),
      pickupQuantiles: quantilesOf(pickup),
      ready,
      pickup,
      promiseKept: promise === undefined ? null : shareWithin(this.#byReady ? ready : pickup, promise.at),
      beyondHorizon: 1 - shareWithin(ready, horizon),
      blame,
    };
  }
}

function quantilesOf(ascending: Int32Array): number[] {
  const quantiles: number[] = [];
  for (const percent of QUANTILE_PERCENTS) quantiles.push(sampleQuantile(ascending, percent / 100));
  return quantiles;
}
