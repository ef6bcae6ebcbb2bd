import { BlameTally } from '../blame/blame-tally.ts';
import { type CompiledPlan, compilePlan } from './compile-plan.ts';
import { HoursRecord, type MinutesOver } from './hours-record.ts';
import { type JobOutlook, JobRecord } from './job-record.ts';
import { Replay } from './replay.ts';
import { commonRules, inputFaults, type SimulationInput } from './simulation-input.ts';

export interface SimulationResult {
  /** As many as asked for, or as were thrifty. */
  readonly scenarios: number;
  /** By job. */
  readonly jobs: readonly JobOutlook[];
  /** Minutes of authorised overtime worked, and minutes stayed on past hours to finish unpausable work. */
  readonly overtime: MinutesOver;
  readonly stayedOn: MinutesOver;
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
  const tally = new BlameTally(plan);
  const records = recordsOf(plan, input, scenarios);
  const told = input.of?.map((job) => records[job]!) ?? records;
  const hours = new HoursRecord(plan, scenarios);
  const presence = new Int32Array(problem.operations.length);
  let broken = 0;
  for (let s = 0; s < scenarios; s++) {
    replay.run(s);
    for (let k = 0; k < told.length; k++) told[k]!.note(replay, s, tally);
    for (let o = 0; o < presence.length; o++) presence[o] = presence[o]! + replay.present[o]!;
    hours.note(replay, s);
    broken += replay.broken;
  }
  return {
    scenarios,
    jobs: records.map((record, j) => record.outlook(tally.of(j, scenarios))),
    overtime: hours.overtime(),
    stayedOn: hours.stayedOn(),
    presence: Array.from(presence, (count) => count / scenarios),
    brokenWindows: broken / scenarios,
  };
}

/** By job. */
function recordsOf(plan: CompiledPlan, { keptBy }: SimulationInput, scenarios: number): JobRecord[] {
  const records: JobRecord[] = [];
  for (let j = 0; j < plan.nodes.problem.jobs.length; j++) {
    records.push(new JobRecord(plan, j, scenarios, keptBy === 'ready'));
  }
  return records;
}

function affordable({ scenarios, thrift }: SimulationInput, steps: number): number {
  if (thrift === undefined) return scenarios;
  return Math.min(scenarios, Math.max(thrift.least, Math.floor(thrift.steps / Math.max(1, steps))));
}
