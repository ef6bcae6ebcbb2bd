import { BlameTally } from '../blame/blame-tally.ts';
import { type CompiledPlan, compilePlan } from './compile-plan.ts';
import { DEAL } from './even-luck.ts';
import { HoursRecord, type MinutesOver } from './hours-record.ts';
import { type JobOutlook, JobRecord } from './job-record.ts';
import { Replay } from './replay.ts';
import { commonRules, inputFaults, type SimulationInput, type Thrift } from './simulation-input.ts';

export interface SimulationResult {
  readonly scenarios: number;
  /** By job; of those asked for. */
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
  const simulation = new Simulation(input);
  return simulation.after(simulation.scenarios);
}

/** A plan that is replayed as often as is asked for, and more often when somebody wants to know better. */
export class Simulation {
  /** As many as asked for, or as are thrifty. */
  readonly scenarios: number;
  readonly #plan: CompiledPlan;
  readonly #replay: Replay;
  readonly #tally: BlameTally;
  /** Of the jobs asked for. */
  readonly #records: readonly JobRecord[];
  /** Operations that are carried out. */
  readonly #operations: Int32Array;
  readonly #hours: HoursRecord;
  readonly #presence: Int32Array;
  #broken = 0;
  #done = 0;

  /** @throws RangeError naming the field at fault. */
  constructor(input: SimulationInput) {
    const faults = inputFaults(input);
    if (faults.length > 0) throw new RangeError(faults.join('; '));
    const { problem, schedule } = input;
    const rules = { ...commonRules, ...input.rules };
    this.#plan = compilePlan(problem, schedule, rules, input.of);
    this.scenarios = input.thrift === undefined ? input.scenarios : this.affordable({ ...input, ...input.thrift });
    this.#replay = new Replay(this.#plan, input, rules);
    this.#tally = new BlameTally(this.#plan);
    const asked = input.of ?? problem.jobs.keys();
    this.#records = Array.from(
      asked,
      (job) => new JobRecord(this.#plan, job, this.scenarios, input.keptBy === 'ready'),
    );
    this.#operations = this.#plan.order.filter((node) => node < problem.operations.length);
    this.#hours = new HoursRecord(this.#plan, this.scenarios);
    this.#presence = new Int32Array(problem.operations.length);
  }

  /**
   * As many scenarios as asked for, or fewer, but no fewer than `least`, where they would carry out more than so many pieces of work
   * and moves: as many as are dealt their luck together.
   */
  affordable({ scenarios, steps, least }: { readonly scenarios: number } & Thrift): number {
    const deals = Math.floor(steps / Math.max(1, this.#plan.order.length) / DEAL);
    return Math.min(scenarios, Math.max(least, deals * DEAL));
  }

  /** What is known after so many scenarios, at most all; those that were carried out before are not again. */
  after(scenarios: number): SimulationResult {
    const until = Math.min(scenarios, this.scenarios);
    for (; this.#done < until; this.#done++) this.#carryOut(this.#done);
    const done = this.#done;
    const jobs: JobOutlook[] = [];
    for (const record of this.#records) jobs[record.job] = record.outlook(done, this.#tally.of(record.job, done));
    return {
      scenarios: done,
      jobs,
      overtime: this.#hours.overtime(done),
      stayedOn: this.#hours.stayedOn(done),
      presence: Array.from(this.#presence, (count) => count / done),
      brokenWindows: this.#broken / done,
    };
  }

  #carryOut(scenario: number): void {
    const replay = this.#replay;
    const presence = this.#presence;
    const operations = this.#operations;
    replay.run(scenario);
    for (let k = 0; k < this.#records.length; k++) this.#records[k]!.note(replay, scenario, this.#tally);
    for (let k = 0; k < operations.length; k++) {
      const o = operations[k]!;
      presence[o] = presence[o]! + replay.present[o]!;
    }
    this.#hours.note(replay, scenario);
    this.#broken += replay.broken;
  }
}
