import { NEVER } from '../../engine/calendar/never.ts';
import { BlameTally, type JobBlame } from '../blame/blame-tally.ts';
import { compilePlan } from './compile-plan.ts';
import { leavingNode } from './plan-nodes.ts';
import { Replay } from './replay.ts';
import { sampleQuantile, shareWithin } from './sample-quantile.ts';
import { commonRules, inputFaults, type SimulationInput } from './simulation-input.ts';

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

export interface SimulationResult {
  /** As many as asked for, or as were thrifty. */
  readonly scenarios: number;
  /** By job. */
  readonly jobs: readonly JobOutlook[];
  /** Minutes of authorised overtime worked, and minutes stayed on past hours to finish unpausable work. */
  readonly overtime: { readonly meanMinutes: number; readonly p90Minutes: number };
  readonly stayedOn: { readonly meanMinutes: number; readonly p90Minutes: number };
  /** By operation: share of the scenarios in which it is present. A remedy's share is how often its window lapses. */
  readonly presence: readonly number[];
  /** Mean number of windows without remedy that were broken in a scenario. */
  readonly brokenWindows: number;
}

/**
 * Replays a plan many times with uncertain durations. A pure function of its input.
 *
 * @throws RangeError naming the field at fault.
 */
export function simulate(input: SimulationInput): SimulationResult {
  const faults = inputFaults(input);
  if (faults.length > 0) throw new RangeError(faults.join('; '));
  const { problem, schedule } = input;
  const rules = { ...commonRules, ...input.rules };
  const plan = compilePlan(problem, schedule, rules, input.of);
  const scenarios = affordable(input, plan.order.length);
  const replay = new Replay(plan, input, rules);
  const ready = problem.jobs.map(() => new Int32Array(scenarios));
  const pickup = problem.jobs.map(() => new Int32Array(scenarios));
  const overtime = new Int32Array(scenarios);
  const stayedOn = new Int32Array(scenarios);
  const presence = new Int32Array(problem.operations.length);
  const tally = new BlameTally(plan);
  const told = input.of ?? [...problem.jobs.keys()];
  const byReady = input.keptBy === 'ready';
  const readyNode = problem.jobs.map((job, j) => job.ready ?? leavingNode(problem, j));
  const pickupNode = problem.jobs.map((job, j) => job.handover ?? leavingNode(problem, j));
  const limit = problem.jobs.map((job, j) => job.promise?.at ?? job.due?.at ?? plan.nodes.start[pickupNode[j]!]!);
  const withOvertime = plan.rules.flatMap(({ overtime }, node) => (overtime.length > 0 ? [node] : []));
  let broken = 0;
  for (let s = 0; s < scenarios; s++) {
    replay.run(s);
    for (let k = 0; k < told.length; k++) {
      const j = told[k]!;
      const isReady = replay.end[readyNode[j]!]!;
      const pickedUp = replay.start[pickupNode[j]!]!;
      ready[j]![s] = isReady;
      pickup[j]![s] = pickedUp;
      if (byReady ? isReady > limit[j]! : pickedUp > limit[j]!) {
        tally.blame(replay, j, byReady ? readyNode[j]! : pickupNode[j]!, byReady);
      }
    }
    for (let o = 0; o < presence.length; o++) presence[o] = presence[o]! + replay.present[o]!;
    let minutes = 0;
    for (const node of withOvertime) {
      if (replay.present[node] === 0 || replay.end[node]! >= NEVER) continue;
      for (const hours of plan.rules[node]!.overtime)
        minutes += hours.minutesIn(replay.start[node]!, replay.end[node]!);
    }
    overtime[s] = minutes;
    stayedOn[s] = replay.stayedOn;
    broken += replay.broken;
  }
  return {
    scenarios,
    jobs: problem.jobs.map((job, j) => {
      const readyAt = ready[j]!.sort();
      const pickupAt = pickup[j]!.sort();
      return {
        readyQuantiles: QUANTILE_PERCENTS.map((percent) => sampleQuantile(readyAt, percent / 100)),
        pickupQuantiles: QUANTILE_PERCENTS.map((percent) => sampleQuantile(pickupAt, percent / 100)),
        ready: readyAt,
        pickup: pickupAt,
        promiseKept: job.promise === undefined ? null : shareWithin(byReady ? readyAt : pickupAt, job.promise.at),
        beyondHorizon: 1 - shareWithin(readyAt, problem.horizon),
        blame: tally.of(j, scenarios),
      };
    }),
    overtime: minutesOver(overtime),
    stayedOn: minutesOver(stayedOn),
    presence: Array.from(presence, (count) => count / scenarios),
    brokenWindows: broken / scenarios,
  };
}

function affordable({ scenarios, thrift }: SimulationInput, steps: number): number {
  if (thrift === undefined) return scenarios;
  return Math.min(scenarios, Math.max(thrift.least, Math.floor(thrift.steps / Math.max(1, steps))));
}

function minutesOver(values: Int32Array): { meanMinutes: number; p90Minutes: number } {
  const meanMinutes = values.reduce((sum, value) => sum + value, 0) / values.length;
  return { meanMinutes, p90Minutes: sampleQuantile(values.sort(), 0.9) };
}
