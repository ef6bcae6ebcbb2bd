import type { RunLuck, Runs } from '../../trade/work-content/learned-from-floor.ts';
import { NO_RUNS, NOTHING_KNOWN } from '../spread/day-runs.ts';
import { normalProbability, normalQuantile } from '../spread/standard-normal.ts';
import type { CompiledPlan } from './compile-plan.ts';
import { PRESENT } from './plan-nodes.ts';
import { mix, scenarioSeed, uniform } from './seeded-draws.ts';
import type { ExecutionRules, SimulationInput } from './simulation-input.ts';

const LOG_NORMAL = 0;
const EXPONENTIAL = 1;
const BY_QUANTILES = 2;

/** Keeps streams of groups, surprises and days apart from those of operations. */
const GROUP_SALT = 0x3c6ef372;
const SURPRISE_SALT = 0x1b873593;
const DAY_SALT = 0x52dce729;
const RUN_SALT = 0x27d4eb2f;

/** Draws the work content of every operation, scenario by scenario, into arrays that are used again. */
export class WorkDraws {
  /**
   * Work of each node in this scenario, in units of its progress; of work under way, what is left of it at `now`, and 0 when
   * its end is certain.
   */
  readonly work: Float64Array;
  readonly #plan: CompiledPlan;
  readonly #input: SimulationInput;
  readonly #drawn: Int32Array;
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
  readonly #dayLogDeviation: number;
  readonly #dayQuantiles: readonly number[] | undefined;
  readonly #runs: Runs;
  readonly #today: RunLuck;
  readonly #firstDay: number;
  /** Factor by day of good and bad days; those of this scenario are drawn up to a day when it is first asked for. */
  readonly #dayFactor: Float64Array;
  #daysDrawn = 0;
  #luckOfRun = 0;
  readonly #surprises: readonly Surprising[];
  #ofScenario = 0;

  constructor(
    plan: CompiledPlan,
    input: SimulationInput,
    { dayLogDeviation, dayQuantiles, runs = NO_RUNS, today = NOTHING_KNOWN }: ExecutionRules,
  ) {
    this.#plan = plan;
    this.#input = input;
    const { nodes } = plan;
    const count = nodes.problem.operations.length;
    const spread = input.spreadFactor ?? 1;
    this.#dayLogDeviation = dayLogDeviation * spread;
    this.#dayQuantiles = dayQuantiles;
    this.#runs = runs;
    this.#today = today;
    this.#firstDay = Math.floor(nodes.problem.now / 1440);
    this.work = new Float64Array(nodes.count);
    const days = Math.ceil(nodes.problem.horizon / 1440) + 1;
    this.#dayFactor = new Float64Array(days).fill(1);
    this.#surprises = surprising(plan, input);
    const open = Array.from({ length: count }, (_, o) => o).filter(
      (o) => nodes.mode[o]! >= 0 && nodes.settled[o] === 0 && plan.carriedOut?.[o] !== 0,
    );
    this.#drawn = Int32Array.from(open);
    this.#stream = Int32Array.from({ length: count }, (_, o) => mix(input.streams?.[o] ?? o));
    this.#logMean = Float64Array.from(input.factors, ({ logMean }) => logMean);
    this.#logDeviation = Float64Array.from(input.factors, ({ logDeviation }) => logDeviation * spread);
    // Of a recorded shape too little is known beyond a point to say what is left of work under way.
    this.#law = Uint8Array.from(input.factors, ({ law, quantiles }, o) =>
      quantiles !== undefined && nodes.underWay[o] === 0
        ? BY_QUANTILES
        : law === 'exponential'
          ? EXPONENTIAL
          : LOG_NORMAL,
    );
    const shared = input.factors.map((factor) => factor.shared ?? []);
    this.#sharedFirst = new Int32Array(count + 1);
    for (const [o, parts] of shared.entries()) this.#sharedFirst[o + 1] = this.#sharedFirst[o]! + parts.length;
    const parts = shared.flat();
    this.#sharedGroup = Int32Array.from(parts, ({ group }) => group);
    this.#sharedDeviation = Float64Array.from(parts, ({ logDeviation }) => logDeviation * spread);
    this.#groupLuck = new Float64Array(parts.reduce((most, { group }) => Math.max(most, group + 1), 0));
    this.#endedByNow = new Float64Array(count);
    this.#doneByNow = new Float64Array(count);
    for (const o of open) if (nodes.underWay[o] === 1) this.#readUnderWay(o);
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
    const ofScenario = scenarioSeed(this.#input.seed, scenario);
    this.#daysDrawn = this.#firstDay;
    this.#ofScenario = ofScenario;
    for (let g = 0; g < this.#groupLuck.length; g++) {
      this.#groupLuck[g] = normalQuantile(uniform(ofScenario, mix(g ^ GROUP_SALT)));
    }
    const { nodes, work: planned } = this.#plan;
    for (let k = 0; k < this.#drawn.length; k++) {
      const o = this.#drawn[k]!;
      const nominal = planned[o]!;
      if (nominal === 0 || (nodes.underWay[o] === 1 && this.#logDeviation[o] === 0)) {
        this.work[o] = 0;
        continue;
      }
      const drawn = nominal * this.#factor(o, uniform(ofScenario, this.#stream[o]!));
      // An exponential has no memory: what is left is as long as the whole was.
      const remembers = nodes.underWay[o] === 1 && this.#law[o] !== EXPONENTIAL;
      const left = remembers ? drawn - this.#doneByNow[o]! : drawn;
      this.work[o] = Math.max(1, Math.round(left));
    }
    this.#drawSurprises();
  }

  /** How much longer than usual work takes on a day of this scenario; 1 when days do not differ, and for days that are over. */
  factorOfDay(day: number): number {
    if (this.#dayLogDeviation > 0) while (this.#daysDrawn <= day) this.#drawDay(this.#daysDrawn++);
    return this.#dayFactor[day]!;
  }

  /** A day's luck is its own and that of its run, which leans on the day before; laid out as the recorded days lie. */
  #drawDay(day: number): void {
    const { share, withDayBefore: leans } = this.#runs;
    let luck = this.#normal(day ^ DAY_SALT);
    if (share > 0) {
      const { luck: known, variance } = this.#today;
      const own = this.#normal(day ^ RUN_SALT);
      this.#luckOfRun =
        day === this.#firstDay
          ? known + Math.sqrt(variance) * own
          : leans * this.#luckOfRun + Math.sqrt(1 - leans ** 2) * own;
      luck = Math.sqrt(share) * this.#luckOfRun + Math.sqrt(1 - share) * luck;
    }
    const z = this.#dayQuantiles === undefined ? luck : between(this.#dayQuantiles, normalProbability(luck));
    this.#dayFactor[day] = Math.exp(this.#dayLogDeviation * z);
  }

  #normal(stream: number): number {
    return normalQuantile(uniform(this.#ofScenario, mix(stream)));
  }

  #factor(o: number, luck: number): number {
    let log = this.#logMean[o]!;
    for (let k = this.#sharedFirst[o]!; k < this.#sharedFirst[o + 1]!; k++) {
      log += this.#sharedDeviation[k]! * this.#groupLuck[this.#sharedGroup[k]!]!;
    }
    const law = this.#law[o]!;
    if (law === EXPONENTIAL) return -Math.log(luck) * Math.exp(log);
    const deviation = this.#logDeviation[o]!;
    if (deviation === 0) return Math.exp(log);
    if (law === BY_QUANTILES) return Math.exp(log + deviation * between(this.#input.factors[o]!.quantiles!, luck));
    const ended = this.#endedByNow[o]!;
    // Work that has lasted until now is drawn from what is left of its distribution.
    const p = ended === 0 ? luck : Math.min(1 - 1e-12, ended + luck * (1 - ended));
    return Math.exp(log + deviation * normalQuantile(p));
  }

  #drawSurprises(): void {
    for (let k = 0; k < this.#surprises.length; k++) {
      const { probability, own, effects } = this.#surprises[k]!;
      if (uniform(this.#ofScenario, own) >= probability) continue;
      for (let e = 0; e < effects.length; e++) {
        const { operation, logMean, logDeviation, stream } = effects[e]!;
        const extra = Math.exp(logMean + logDeviation * normalQuantile(uniform(this.#ofScenario, stream)));
        this.work[operation] = this.work[operation]! + Math.round(extra);
      }
    }
  }
}

/** A surprise that something carried out would feel. */
interface Surprising {
  readonly probability: number;
  readonly own: number;
  readonly effects: readonly {
    readonly operation: number;
    readonly logMean: number;
    readonly logDeviation: number;
    readonly stream: number;
  }[];
}

function surprising({ nodes, carriedOut }: CompiledPlan, { surprises = [] }: SimulationInput): Surprising[] {
  return surprises.flatMap(({ probability, effects, stream }, k) => {
    const own = mix((stream ?? k) ^ SURPRISE_SALT);
    const felt = effects.flatMap(({ operation, extraWork }, e) => {
      if (nodes.presence[operation] !== PRESENT || nodes.settled[operation] === 1) return [];
      return carriedOut?.[operation] === 0 ? [] : [{ operation, ...extraWork, stream: mix(own + e + 1) }];
    });
    return felt.length === 0 ? [] : [{ probability, own, effects: felt }];
  });
}

/** Linear between quantiles at (k + 0.5) / n, level beyond the first and last. */
function between(quantiles: readonly number[], p: number): number {
  const at = p * quantiles.length - 0.5;
  if (at <= 0) return quantiles[0]!;
  if (at >= quantiles.length - 1) return quantiles[quantiles.length - 1]!;
  const k = Math.floor(at);
  return quantiles[k]! + (at - k) * (quantiles[k + 1]! - quantiles[k]!);
}
