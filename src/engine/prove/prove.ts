import { compareTiers } from '../improve/tiers.ts';
import { Search } from '../learn/search.ts';
import type { Problem } from '../problem/problem.ts';
import type { Schedule, Solution, Status } from '../problem/solution.ts';
import type { SolveOptions } from '../solve-options.ts';
import { EarliestStart } from './branching.ts';
import { PlacesFirst } from './branching-visits.ts';
import type { Exchange } from './exchange.ts';
import type { IncumbentSource } from './incumbent-source.ts';
import { asMachineShop } from './machine-shop.ts';
import { buildModel, type Model } from './model.ts';
import { addObjective, readSchedule } from './objective.ts';
import { guideOf } from './phase-guide.ts';
import { asProject } from './project.ts';
import { ProjectGenetic } from './project-genetic.ts';
import { isPlain, unprovable } from './provable.ts';
import { literalsOf } from './replay.ts';
import { SeededRandom } from './seeded-random.ts';
import { ShopTabu } from './shop-tabu.ts';
import { BALANCED, type Strategy } from './strategy.ts';
import { Climb, Stride } from './stride.ts';

/** Conflicts, and work, of one turn of the proof before the heuristic has its turn again. */
const TURN = 2000;
const FIRST_TURN_WORK = 2_000_000;
/** What a schedule leaves open of the model takes few conflicts to fill in. */
const REPLAY_CONFLICTS = 200;
/** Work of the heuristic's first turn. */
const FIRST_WORK = 400_000;

/**
 * Solves a problem by lazy clause generation: finds schedules and lowers the objective until none better exists,
 * one tier after another. Throws when the problem is one that `provable` excludes. One of several proofs of a
 * portfolio has a strategy of its own and an exchange with the others.
 */
export function prove(
  problem: Problem,
  options: SolveOptions,
  strategy: Strategy = BALANCED,
  exchange?: Exchange,
): Solution {
  const outside = unprovable(problem);
  if (outside !== undefined) throw new Error(`no proof is made for a problem with ${outside}`);
  const model = buildModel(problem, strategy.decay);
  if (model === undefined) {
    const bound = problem.tiers.map(() => 0);
    return { status: 'infeasible', schedule: null, objective: null, bound, work: 0, interrupted: false };
  }
  return new Proof(problem, options, model, strategy, exchange).run();
}

type Verdict = 'best' | 'none' | 'stopped';

class Proof {
  private readonly problem: Problem;
  private readonly options: SolveOptions;
  private readonly model: Model;
  private readonly strategy: Strategy;
  private readonly exchange: Exchange | undefined;
  private readonly search: Search;
  private readonly tiers: readonly number[];
  private readonly deadline: number;
  private readonly limits: { conflicts: number; work: number; stop: () => boolean };
  private bound: number[];
  private best: Schedule | null = null;
  private objective: number[] | null = null;
  private source: IncumbentSource | undefined;
  private turnWork = FIRST_TURN_WORK;
  /** The heuristic's share of all work after its first turn. */
  private share = 0.35;
  private interrupted = false;
  private readonly isPlain: boolean;

  constructor(problem: Problem, options: SolveOptions, model: Model, strategy: Strategy, exchange?: Exchange) {
    this.problem = problem;
    this.options = options;
    this.model = model;
    this.strategy = strategy;
    this.exchange = exchange;
    this.deadline = options.clock ? options.clock() + (options.timeLimitMs ?? Number.POSITIVE_INFINITY) : 0;
    this.tiers = problem.tiers.map((tier) => addObjective(problem, model, tier));
    this.bound = this.tiers.map(() => 0);
    this.isPlain = isPlain(problem);
    const brancher = this.isPlain ? new EarliestStart(model) : new PlacesFirst(model);
    this.search = new Search(model.solver, brancher, strategy.restartUnit);
    this.limits = { conflicts: TURN, work: options.workLimit, stop: this.pause };
  }

  private readonly stop = (): boolean => {
    const { clock, cancelled } = this.options;
    if ((clock !== undefined && clock() >= this.deadline) || cancelled?.()) this.interrupted = true;
    return this.interrupted;
  };

  /** A search ends early when another proof has found something better. */
  private readonly pause = (): boolean => this.stop() || this.exchange?.hasNews() === true;

  private get work(): number {
    return this.model.solver.work + (this.source?.work ?? 0);
  }

  run(): Solution {
    const { solver, lags } = this.model;
    solver.seal();
    if (solver.failed || !lags.start() || !solver.propagate()) return this.result('infeasible');
    this.readBounds();
    if (this.options.warmStart !== undefined) {
      if (this.isPlain) this.guide(this.options.warmStart);
      else this.replay(this.options.warmStart);
    }
    if (this.isPlain) this.startSource();
    for (let tier = 0; tier < Math.max(1, this.tiers.length); tier++) {
      const verdict = this.minimise(tier);
      if (verdict === 'none') return this.result('infeasible');
      if (verdict === 'stopped') return this.result(this.best === null ? 'unknown' : 'feasible');
      if (this.objective !== null && this.tiers.length > 0) this.exchange?.tellBound(tier, this.objective[tier]!);
      if (tier === this.tiers.length - 1) break;
      if (this.tiers.length > 0) solver.require(this.tiers[tier]! ^ 1, -this.objective![tier]!);
    }
    return this.result('optimal');
  }

  private startSource(): void {
    const random = new SeededRandom(this.options.seed);
    const shop = asMachineShop(this.problem);
    if (shop !== undefined) {
      this.source = new ShopTabu(shop, random);
      // Choosing machines is what tabu search does better than the proof; orders on given machines it does worse.
      this.share = this.strategy.heuristicShare ?? (shop.machine.length > shop.operations ? 0.85 : 0.15);
      return;
    }
    const project = asProject(this.problem);
    if (project === undefined) return;
    this.source = new ProjectGenetic(project, random);
    this.share = this.strategy.heuristicShare ?? this.share;
  }

  /** Lowers one tier until it is proved least; the tiers before it are held at their best. */
  private minimise(tier: number): Verdict {
    const { solver } = this.model;
    const { bounds } = solver;
    const half = this.tiers[tier];
    const last = tier >= this.tiers.length - 1;
    const stride = this.strategy.climbs ? new Climb() : new Stride();
    this.askSource(FIRST_WORK);
    for (;;) {
      this.hear(tier);
      const best = this.objective?.[tier];
      if (half !== undefined && best !== undefined && best <= this.bound[tier]!) return 'best';
      if (last && half !== undefined && best !== undefined) solver.require(half ^ 1, 1 - best);
      const goal = best === undefined ? undefined : stride.goal(this.bound[tier]!, best);
      const bold = goal !== undefined && goal < best! - 1;
      const assumed = half === undefined || goal === undefined || (last && !bold) ? [] : [half ^ 1, -goal];
      this.limits.conflicts = bold ? stride.conflicts : TURN;
      const left = this.options.workLimit - (this.source?.work ?? 0);
      this.limits.work = this.source === undefined ? left : Math.min(left, solver.work + this.turnWork);
      const before = solver.conflicts;
      const outcome = this.search.run(this.limits, assumed);
      if (outcome === 'solution') {
        const objective = this.tiers.map((h) => bounds.min(h));
        this.keep(readSchedule(this.model), objective);
        if (this.strategy.followsBest) this.search.follow();
        stride.reached();
        if (half === undefined) return 'best';
        continue;
      }
      if (outcome === 'none') {
        if (this.best === null) return 'none';
        if (half !== undefined) this.bound[tier] = this.objective![tier]!;
        return 'best';
      }
      solver.backtrackTo(0);
      if (solver.propagate()) this.readBounds();
      else solver.failed = true;
      if (outcome === 'none-assumed') this.bound[tier] = Math.max(this.bound[tier]!, goal! + 1);
      this.exchange?.tellBound(tier, this.bound[tier] ?? 0);
      if (this.work >= this.options.workLimit || this.stop()) return 'stopped';
      if (outcome === 'limit' && this.exchange?.hasNews()) continue;
      // A turn too short to reach conflicts would start over for ever.
      if (outcome === 'limit' && solver.conflicts - before < this.limits.conflicts / 10) this.turnWork *= 2;
      if (bold) {
        if (outcome === 'limit') stride.missed();
      } else if (outcome === 'limit') {
        this.askSource(Math.max(0, this.share * this.work - (this.source?.work ?? 0)));
      }
    }
  }

  private askSource(work: number): void {
    const { source } = this;
    if (source === undefined || work <= 0) return;
    if (this.best !== null && this.objective![0]! < source.makespan) source.adopt(this.best);
    source.run(work, this.bound[0]!, this.pause);
    // Heuristics know no horizon.
    if (source.makespan > this.problem.horizon) return;
    if (this.best !== null && source.makespan >= this.objective![0]!) return;
    const schedule = source.schedule();
    this.keep(schedule, [source.makespan]);
    this.guide(schedule);
  }

  /** Takes over what other proofs have found: a better schedule, a higher bound. */
  private hear(tier: number): void {
    const { exchange } = this;
    if (exchange === undefined) return;
    const { solver } = this.model;
    solver.backtrackTo(0);
    const heard = exchange.newest();
    if (heard !== undefined && (this.objective === null || compareTiers(heard.objective, this.objective) < 0)) {
      this.best = heard.schedule;
      this.objective = [...heard.objective];
      this.guide(heard.schedule);
    }
    const half = this.tiers[tier];
    if (half === undefined || exchange.bound(tier) <= this.bound[tier]!) return;
    this.bound[tier] = exchange.bound(tier);
    if (this.objective === null || this.bound[tier]! < this.objective[tier]!) solver.require(half, this.bound[tier]!);
  }

  /** Takes a schedule that obeys the rules for the best so far. */
  private replay(schedule: Schedule): void {
    const literals = literalsOf(this.model, schedule);
    if (literals === undefined) return;
    const limits = { conflicts: REPLAY_CONFLICTS, work: this.options.workLimit, stop: this.stop };
    if (this.search.run(limits, literals, false) !== 'solution') return;
    this.keep(
      readSchedule(this.model),
      this.tiers.map((half) => this.model.solver.bounds.min(half)),
    );
    if (this.strategy.followsBest) this.search.follow();
  }

  private guide(schedule: Schedule): void {
    if (!this.strategy.followsBest) return;
    const guide = guideOf(this.model, schedule);
    if (guide === undefined) return;
    this.search.guide = guide;
    this.search.guided = true;
  }

  private keep(schedule: Schedule, objective: number[]): void {
    this.best = schedule;
    this.objective = objective;
    this.exchange?.tellIncumbent({ schedule, objective });
    this.options.onProgress?.({ schedule, objective, bound: this.bound, work: this.work });
  }

  /** At the root after propagation: what every schedule still wanted must cost at least. */
  private readBounds(): void {
    const { bounds } = this.model.solver;
    this.bound = this.tiers.map((half, k) => {
      const least = Math.max(this.bound[k]!, bounds.min(half));
      return this.objective === null ? least : Math.min(least, this.objective[k]!);
    });
  }

  private result(status: Status): Solution {
    const { objective, interrupted, work } = this;
    const bound = status === 'optimal' && objective !== null ? objective : this.bound;
    return { status, schedule: this.best, objective, bound, work, interrupted };
  }
}
