import { betweenQuantiles } from '../spread/between-quantiles.ts';
import { normalProbability, normalQuantile, toNormalQuantiles } from '../spread/standard-normal.ts';
import type { CompiledPlan } from './compile-plan.ts';
import { DayLuck } from './day-luck.ts';
import { evenly, type LuckOfScenario, luckOfScenario } from './even-luck.ts';
import { PRESENT } from './plan-nodes.ts';
import { mix } from './seeded-draws.ts';
import type { ExecutionRules, SimulationInput, WorkFactor } from './simulation-input.ts';

const LOG_NORMAL = 0;
const EXPONENTIAL = 1;
const BY_QUANTILES = 2;

/** Keeps streams of groups and surprises apart from those of operations. */
const GROUP_SALT = 0x3c6ef372;
const SURPRISE_SALT = 0x1b873593;

/** Draws the work content of every operation, scenario by scenario, into arrays that are used again. */
export class WorkDraws {
  /**
   * Work of each node in this scenario, in units of its progress; of work under way, what is left of it at `now`, and 0 when
   * its end is certain.
   */
  readonly work: Float64Array;
  /** How much longer than usual work takes on each day of this scenario. */
  readonly days: DayLuck;
  readonly #plan: CompiledPlan;
  readonly #input: SimulationInput;
  /** Work drawn by the normal distribution, whose quantiles are read all at once, and all other work. */
  readonly #normal: Int32Array;
  readonly #normalQuantiles: Float64Array;
  readonly #other: Int32Array;
  readonly #stream: Int32Array;
  readonly #logMean: Float64Array;
  readonly #logDeviation: Float64Array;
  readonly #law: Uint8Array;
  readonly #sharedFirst: Int32Array;
  readonly #sharedGroup: Int32Array;
  readonly #sharedDeviation: Float64Array;
  readonly #groupLuck: Float64Array;
  /** Of work under way: probability to have ended by now, and work done by now. */
  readonly #endedByNow: Float64Array;
  readonly #doneByNow: Float64Array;
  readonly #surprises: readonly Surprising[];
  #luck: LuckOfScenario = luckOfScenario(0, 0);

  constructor(plan: CompiledPlan, input: SimulationInput, rules: ExecutionRules) {
    this.#plan = plan;
    this.#input = input;
    const { nodes } = plan;
    const count = nodes.problem.operations.length;
    const spread = input.spreadFactor ?? 1;
    this.work = new Float64Array(nodes.count);
    this.days = new DayLuck(nodes.problem, rules, spread);
    this.#surprises = surprising(plan, input);
    const open = openWork(plan);
    this.#stream = new Int32Array(count);
    for (let o = 0; o < count; o++) this.#stream[o] = mix(input.streams?.[o] ?? o);
    this.#logMean = new Float64Array(count);
    this.#logDeviation = new Float64Array(count);
    this.#law = new Uint8Array(count);
    this.#sharedFirst = new Int32Array(count + 1);
    const sharedGroup: number[] = [];
    const sharedDeviation: number[] = [];
    let groups = 0;
    for (let o = 0; o < count; o++) {
      const factor = input.factors[o]!;
      this.#logMean[o] = factor.logMean;
      this.#logDeviation[o] = factor.logDeviation * spread;
      this.#law[o] = lawOf(factor, nodes.underWay[o] === 1);
      for (const { group, logDeviation } of factor.shared ?? []) {
        sharedGroup.push(group);
        sharedDeviation.push(logDeviation * spread);
        groups = Math.max(groups, group + 1);
      }
      this.#sharedFirst[o + 1] = sharedGroup.length;
    }
    this.#sharedGroup = Int32Array.from(sharedGroup);
    this.#sharedDeviation = Float64Array.from(sharedDeviation);
    this.#groupLuck = new Float64Array(groups);
    this.#endedByNow = new Float64Array(count);
    this.#doneByNow = new Float64Array(count);
    const normal: number[] = [];
    const other: number[] = [];
    for (const o of open) {
      if (nodes.underWay[o] === 1) this.#readUnderWay(o);
      if (this.#law[o] === LOG_NORMAL && this.#logDeviation[o]! > 0 && plan.work[o]! > 0) normal.push(o);
      else other.push(o);
    }
    this.#normal = Int32Array.from(normal);
    this.#normalQuantiles = new Float64Array(normal.length);
    this.#other = Int32Array.from(other);
  }

  #readUnderWay(o: number): void {
    const { nodes, rules, work } = this.#plan;
    const { now } = nodes.problem;
    const calendar = rules[o]!.calendar;
    const start = nodes.start[o]!;
    const done = calendar === null ? now - start : calendar.workAt(now) - calendar.workAt(start);
    this.#doneByNow[o] = Math.max(0, done);
    const deviation = this.#logDeviation[o]!;
    if (done <= 0 || deviation === 0 || this.#law[o] !== LOG_NORMAL || work[o] === 0) return;
    this.#endedByNow[o] = normalProbability((Math.log(done / work[o]!) - this.#logMean[o]!) / deviation);
  }

  /** Fills `work` for a scenario. */
  draw(scenario: number): void {
    this.#luck = luckOfScenario(this.#input.seed, scenario);
    this.days.begin(this.#luck);
    const luck = this.#groupLuck;
    for (let g = 0; g < luck.length; g++) luck[g] = evenly(this.#luck, mix(g ^ GROUP_SALT));
    toNormalQuantiles(luck);
    this.#drawNormal();
    for (let k = 0; k < this.#other.length; k++) this.#drawOther(this.#other[k]!);
    this.#drawSurprises();
  }

  #drawNormal(): void {
    const operations = this.#normal;
    const z = this.#normalQuantiles;
    for (let k = 0; k < operations.length; k++) {
      const o = operations[k]!;
      const luck = evenly(this.#luck, this.#stream[o]!);
      const ended = this.#endedByNow[o]!;
      // Work that has lasted until now is drawn from what is left of its distribution.
      z[k] = ended === 0 ? luck : Math.min(1 - 1e-12, ended + luck * (1 - ended));
    }
    toNormalQuantiles(z);
    const planned = this.#plan.work;
    for (let k = 0; k < operations.length; k++) {
      const o = operations[k]!;
      const drawn = planned[o]! * Math.exp(this.#sharedLuck(o) + this.#logDeviation[o]! * z[k]!);
      this.work[o] = Math.max(1, Math.round(drawn - this.#doneByNow[o]!));
    }
  }

  #drawOther(o: number): void {
    const nominal = this.#plan.work[o]!;
    const isUnderWay = this.#plan.nodes.underWay[o] === 1;
    if (nominal === 0 || (isUnderWay && this.#logDeviation[o] === 0)) {
      this.work[o] = 0;
      return;
    }
    const drawn = nominal * this.#factor(o);
    // An exponential has no memory: what is left is as long as the whole was.
    const remembers = isUnderWay && this.#law[o] !== EXPONENTIAL;
    this.work[o] = Math.max(1, Math.round(remembers ? drawn - this.#doneByNow[o]! : drawn));
  }

  /** The factor of work that is certain, exponential, or as its records lie. */
  #factor(o: number): number {
    const log = this.#sharedLuck(o);
    const law = this.#law[o]!;
    if (law === EXPONENTIAL) return -Math.log(evenly(this.#luck, this.#stream[o]!)) * Math.exp(log);
    const deviation = this.#logDeviation[o]!;
    if (deviation === 0 || law === LOG_NORMAL) return Math.exp(log);
    const luck = evenly(this.#luck, this.#stream[o]!);
    return Math.exp(log + deviation * betweenQuantiles(this.#input.factors[o]!.quantiles!, luck));
  }

  /** The mean of the log factor, with what is shared with other work in this scenario. */
  #sharedLuck(o: number): number {
    let log = this.#logMean[o]!;
    for (let k = this.#sharedFirst[o]!; k < this.#sharedFirst[o + 1]!; k++) {
      log += this.#sharedDeviation[k]! * this.#groupLuck[this.#sharedGroup[k]!]!;
    }
    return log;
  }

  #drawSurprises(): void {
    for (let k = 0; k < this.#surprises.length; k++) {
      const { probability, own, effects } = this.#surprises[k]!;
      if (evenly(this.#luck, own) >= probability) continue;
      for (let e = 0; e < effects.length; e++) {
        const { operation, logMean, logDeviation, stream } = effects[e]!;
        const extra = Math.exp(logMean + logDeviation * normalQuantile(evenly(this.#luck, stream)));
        this.work[operation] = this.work[operation]! + Math.round(extra);
      }
    }
  }
}

/** A surprise that something carried out would feel. */
interface Surprising {
  readonly probability: number;
  readonly own: number;
  readonly effects: readonly Felt[];
}

interface Felt {
  readonly operation: number;
  readonly logMean: number;
  readonly logDeviation: number;
  readonly stream: number;
}

function surprising({ nodes, carriedOut }: CompiledPlan, { surprises = [] }: SimulationInput): Surprising[] {
  const surprising: Surprising[] = [];
  for (let k = 0; k < surprises.length; k++) {
    const { probability, effects, stream } = surprises[k]!;
    const own = mix((stream ?? k) ^ SURPRISE_SALT);
    const felt: Felt[] = [];
    for (let e = 0; e < effects.length; e++) {
      const { operation, extraWork } = effects[e]!;
      if (nodes.presence[operation] !== PRESENT || nodes.settled[operation] === 1) continue;
      if (carriedOut?.[operation] !== 0) felt.push({ operation, ...extraWork, stream: mix(own + e + 1) });
    }
    if (felt.length > 0) surprising.push({ probability, own, effects: felt });
  }
  return surprising;
}

/** Work still to do in what is carried out. */
function openWork({ nodes, carriedOut }: CompiledPlan): number[] {
  const open: number[] = [];
  for (let o = 0; o < nodes.mode.length; o++) {
    if (nodes.mode[o]! >= 0 && nodes.settled[o] === 0 && carriedOut?.[o] !== 0) open.push(o);
  }
  return open;
}

function lawOf({ law, quantiles }: WorkFactor, isUnderWay: boolean): number {
  // Of a recorded shape too little is known beyond a point to say what is left of work under way.
  if (quantiles !== undefined && !isUnderWay) return BY_QUANTILES;
  return law === 'exponential' ? EXPONENTIAL : LOG_NORMAL;
}
