import type { Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import type { RunLuck, Runs } from '../../trade/work-content/learned-from-floor.ts';
import type { LogNormal } from '../spread/log-normal.ts';

/**
 * What the work content of an operation's mode is multiplied by: a log-normal factor, unless `law` or `quantiles` say
 * otherwise. A factor of logMean 0 and logDeviation 0 is work that takes exactly as long as planned.
 */
export interface WorkFactor extends LogNormal {
  /** `exponential`: the factor is exponential with mean exp(logMean); waiting for somebody's answer is often so. */
  readonly law?: 'logNormal' | 'exponential';
  /** Standardised quantiles of the log factor at (k + 0.5) / n, for work whose records are not log-normal. */
  readonly quantiles?: readonly number[];
  /** Luck shared with other operations of the same group (a car, a kind of work): its own part of the log factor. */
  readonly shared?: readonly { readonly group: number; readonly logDeviation: number }[];
}

/** Something that happens or does not, once a scenario: a failed final inspection, a scope changed at the test spot. */
export interface Surprise {
  readonly probability: number;
  /** Work added to operations when it happens, in minutes of hands-on work (units of the mode's progress). */
  readonly effects: readonly { readonly operation: number; readonly extraWork: LogNormal }[];
  /** Names its luck across plans; absent: its place in the list. */
  readonly stream?: number;
}

/** How the floor carries a plan out. */
export interface ExecutionRules {
  /** Whether work may begin before its planned start when everything before it is done. Drop-offs never do. */
  readonly starts: 'asSoonAsPossible' | 'notBeforePlanned';
  /** A customer told an hour does not come earlier. `asSoonAsReady` shows what could have been told. */
  readonly pickups: 'notBeforePlanned' | 'asSoonAsReady';
  /**
   * Whether somebody (or a machine) whose next car is late stands idle, or first does what comes after it and can be done
   * meanwhile. Bays keep their order either way.
   */
  readonly queues: 'inPlannedOrder' | 'fillingGaps';
  /** Unpausable work that overruns its crew's hours is finished by staying on this long at most, else it pauses. */
  readonly stayOnMinutes: number;
  /**
   * Unpausable work that is behind the plan is begun though it is expected to run this far into a break or past closing (a
   * quarter of it at most): nobody lets a wipe go stale, or a car wait until tomorrow, for a few minutes.
   */
  readonly graceMinutes: number;
  /** Standard deviation of the log factor that all work begun on one day shares: good and bad days. */
  readonly dayLogDeviation: number;
  /** Standardised quantiles of that factor at (k + 0.5) / n; absent: normal. */
  readonly dayQuantiles?: readonly number[];
  /** How days follow each other; absent: each by itself. */
  readonly runs?: Runs;
  /** What is believed of the run that the day of `now` is in; absent: nothing. */
  readonly today?: RunLuck;
}

/** Work under 60 minutes over is finished the same evening, and 15 are not waited for: common practice, a shop can change it. */
export const commonRules: ExecutionRules = {
  starts: 'asSoonAsPossible',
  pickups: 'notBeforePlanned',
  queues: 'inPlannedOrder',
  stayOnMinutes: 60,
  graceMinutes: 15,
  dayLogDeviation: 0,
};

/** How many scenarios are too much work. */
export interface Thrift {
  readonly steps: number;
  readonly least: number;
}

/** Plain data, so that it can be posted to a worker thread. */
export interface SimulationInput {
  readonly problem: Problem;
  readonly schedule: Schedule;
  /** By operation. */
  readonly factors: readonly WorkFactor[];
  readonly surprises?: readonly Surprise[];
  readonly rules?: Partial<ExecutionRules>;
  /** Multiplies every log deviation: the calibration's correction. 1 when absent. */
  readonly spreadFactor?: number;
  readonly scenarios: number;
  /** Fewer scenarios, but no fewer than `least`, where all of them would carry out more than so many pieces of work and moves. */
  readonly thrift?: Thrift;
  readonly seed: number;
  /** What keeps a promise: the pickup itself, or that the car is ready for it; the pickup when absent. */
  readonly keptBy?: 'pickup' | 'ready';
  /** Jobs: only they and what they wait for is carried out, and nothing is said of the others; absent: all. */
  readonly of?: readonly number[];
  /** By operation: names its luck across plans (`streamOf`); absent: its index. */
  readonly streams?: readonly number[];
}

/** Every fault of an input, each naming its field. */
export function inputFaults(input: SimulationInput): string[] {
  const { problem, schedule, factors, scenarios, seed, spreadFactor, streams } = input;
  const count = problem.operations.length;
  const faults: string[] = [];
  if (schedule.operations.length !== count) faults.push('schedule.operations must have an entry for every operation');
  if (schedule.stays.length !== problem.stays.length) faults.push('schedule.stays must have an entry for every stay');
  if (factors.length !== count) faults.push(`factors must have ${count} entries, one for every operation`);
  if (!(Number.isInteger(scenarios) && scenarios >= 1)) faults.push('scenarios must be a whole number of at least 1');
  if (!Number.isInteger(seed)) faults.push('seed must be a whole number');
  if (spreadFactor !== undefined && !(spreadFactor >= 0)) faults.push('spreadFactor must be 0 or more');
  if (streams !== undefined && streams.length !== count) faults.push(`streams must have ${count} entries`);
  for (let o = 0; o < factors.length; o++) {
    const { logMean, logDeviation } = factors[o]!;
    if (!Number.isFinite(logMean)) faults.push(`factors[${o}].logMean must be a number`);
    if (!(logDeviation >= 0 && Number.isFinite(logDeviation))) {
      faults.push(`factors[${o}].logDeviation must be 0 or more`);
    }
  }
  return [...faults, ...faultsOfSurprises(input)];
}

function faultsOfSurprises({ surprises = [], problem }: SimulationInput): string[] {
  const faults: string[] = [];
  for (let k = 0; k < surprises.length; k++) {
    const { probability, effects } = surprises[k]!;
    if (!(probability >= 0 && probability <= 1)) faults.push(`surprises[${k}].probability must lie between 0 and 1`);
    for (let e = 0; e < effects.length; e++) {
      const exists = problem.operations[effects[e]!.operation] !== undefined;
      if (!exists) faults.push(`surprises[${k}].effects[${e}].operation does not exist`);
    }
  }
  return faults;
}
