import { NEVER } from '../calendar/never.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import { Levels } from '../profile/levels.ts';
import { costJob } from './job-cost.ts';
import { arrivalFact, departureFact } from './job-facts.ts';
import type { CrewModel, JobModel, ModeModel, SpanModel } from './job-model.ts';
import { JobPlan } from './job-plan.ts';
import type { ShopModel } from './shop-model.ts';

/**
 * The shop's book: which people, equipment, places, air and budgets are taken, and by which job's plan. Jobs are entered
 * and withdrawn whole, and withdrawing restores everything exactly. Pinned work is in the book from the start; a
 * car that stands in the shop holds its place without end until its job is entered, so that nobody plans over it.
 */
export class Book {
  readonly shop: ShopModel;
  readonly levels: Levels;
  /** Worked minutes drawn from each window of each budget. */
  readonly drawn: Int32Array;
  readonly jobs: JobModel[] = [];
  /** By job; null while it is not entered. */
  readonly plans: (JobPlan | null)[] = [];
  readonly costs: Float64Array[] = [];
  readonly #totals: Float64Array;
  readonly #pieces = new WorkedPieces();

  constructor(shop: ShopModel, jobs: readonly JobModel[]) {
    this.shop = shop;
    this.levels = new Levels(shop.rows);
    this.drawn = new Int32Array(shop.counters);
    this.#totals = new Float64Array(shop.problem.tiers.length);
    const { takenPlaces, takenResources, resources } = shop.problem;
    for (const [row, resource] of resources.entries()) {
      if (!resource.open) continue;
      let closedFrom = -NEVER;
      for (const open of [...resource.open].sort((a, b) => a.from - b.from)) {
        this.levels.add(row, closedFrom, open.from, resource.capacity);
        closedFrom = Math.max(closedFrom, open.to);
      }
      this.levels.add(row, closedFrom, NEVER, resource.capacity);
    }
    for (const place of shop.places) {
      if (place.open === null) continue;
      let closedFrom = -NEVER;
      for (let k = 0; k < place.open.from.length; k++) {
        this.levels.add(place.busy, closedFrom, place.open.from[k]!, 1);
        closedFrom = place.open.to[k]!;
      }
      this.levels.add(place.busy, closedFrom, NEVER, 1);
    }
    for (const taken of takenResources) this.levels.add(taken.resource, taken.from, taken.to, taken.amount);
    for (const taken of takenPlaces) this.#hold(taken.place, taken.from, taken.from, taken.to, 1);
    for (const job of jobs) this.adopt(job);
  }

  /** Takes a job into the book, not yet entered. */
  adopt(job: JobModel): void {
    this.jobs.push(job);
    this.plans.push(null);
    this.costs.push(new Float64Array(this.shop.problem.tiers.length));
    this.#pinned(job, 1);
    this.stand(job, 1);
  }

  /** Lets the job that was adopted last go again; it must not be entered. */
  release(): void {
    const job = this.jobs.pop()!;
    this.plans.pop();
    this.costs.pop();
    this.stand(job, -1);
    this.#pinned(job, -1);
  }

  #pinned(job: JobModel, sign: number): void {
    const plan = JobPlan.of(job);
    plan.reset(job);
    for (let i = 0; i < job.operations.length; i++) {
      if (job.operations[i]!.fixing === 'pinned') this.useOperation(job, i, plan, sign);
    }
  }

  /** Enters a plan; the book keeps the object. */
  enter(j: number, plan: JobPlan): void {
    const job = this.jobs[j]!;
    this.stand(job, -1);
    this.plans[j] = plan;
    this.#use(job, plan, 1);
    const cost = this.costs[j]!;
    costJob(this.shop, job, plan, cost);
    for (let k = 0; k < cost.length; k++) this.#totals[k]! += cost[k]!;
  }

  withdraw(j: number): JobPlan {
    const job = this.jobs[j]!;
    const plan = this.plans[j]!;
    this.#use(job, plan, -1);
    this.plans[j] = null;
    const cost = this.costs[j]!;
    for (let k = 0; k < cost.length; k++) this.#totals[k]! -= cost[k]!;
    this.stand(job, 1);
    return plan;
  }

  /** Enters and withdraws what it takes for the book to hold `plans` again, by job. */
  restore(plans: readonly (JobPlan | null)[]): void {
    for (const [j, plan] of plans.entries()) if (this.plans[j] !== null && this.plans[j] !== plan) this.withdraw(j);
    for (const [j, plan] of plans.entries()) if (plan !== null && this.plans[j] === null) this.enter(j, plan);
  }

  #use(job: JobModel, plan: JobPlan, sign: number): void {
    for (let i = 0; i < job.operations.length; i++) {
      if (plan.mode[i]! >= 0 && job.operations[i]!.fixing !== 'pinned') this.useOperation(job, i, plan, sign);
    }
    for (const link of job.crews) this.useGap(job, link, plan, sign);
    for (const span of job.spans) this.useAir(span, plan, sign);
    let before = -1;
    for (let k = 0; k < job.stages.length; k++) {
      if (plan.place[k]! < 0) continue;
      this.#useStay(job, plan, k, before, sign);
      before = k;
    }
    if (before >= 0) this.#pass(plan.place[before]!, plan.to[before]!, plan.to[before]! + 1, sign);
  }

  /** People, equipment and budget of one operation. */
  useOperation(job: JobModel, i: number, plan: JobPlan, sign: number): void {
    const mode = job.operations[i]!.modes[plan.mode[i]!]!;
    this.drawBudget(mode, plan.start[i]!, plan.end[i]!, sign);
    if (plan.end[i]! <= plan.start[i]! || mode.resources.length === 0) return;
    const pieces = this.#pieces;
    pieces.ofSpan(mode.calendar, mode.budget, plan.start[i]!, plan.end[i]!);
    for (let k = 0; k < pieces.count; k++) {
      for (let u = 0; u < mode.resources.length; u++) {
        this.levels.add(mode.resources[u]!, pieces.from[k]!, pieces.to[k]!, sign * mode.amounts[u]!);
      }
    }
  }

  /** Draws the worked minutes of [start, end) from the mode's budget, if it has one. */
  drawBudget(mode: ModeModel, start: number, end: number, sign: number): void {
    const { budget, calendar } = mode;
    if (budget === null || end <= start) return;
    const pieces = this.#pieces;
    pieces.ofSpan(calendar, budget, start, end);
    for (let k = 0; k < pieces.count; k++) {
      const from = pieces.from[k]!;
      const to = pieces.to[k]!;
      for (let w = budget.windowAt(from); w < budget.from.length && budget.from[w]! < to; w++) {
        const minutes = Math.min(to, budget.to[w]!) - Math.max(from, budget.from[w]!);
        this.drawn[budget.firstCounter + w]! += sign * minutes;
      }
    }
  }

  /** People kept between two operations that are tied to them. */
  useGap(job: JobModel, link: CrewModel, plan: JobPlan, sign: number): void {
    if (!link.held || plan.mode[link.first]! < 0 || plan.mode[link.second]! < 0) return;
    const mode = job.operations[link.first]!.modes[plan.mode[link.first]!]!;
    const from = Math.max(plan.end[link.first]!, this.shop.now);
    for (let u = 0; u < mode.resources.length; u++) {
      if (!this.shop.resources[mode.resources[u]!]!.person) continue;
      this.levels.add(mode.resources[u]!, from, plan.start[link.second]!, sign * mode.amounts[u]!);
    }
  }

  useAir(span: SpanModel, plan: JobPlan, sign: number): void {
    if (plan.mode[span.from]! < 0 || plan.mode[span.to]! < 0 || plan.place[span.stage]! < 0) return;
    const zone = this.shop.places[plan.place[span.stage]!]!.zone;
    if (zone < 0) return;
    this.levels.add(
      this.shop.airRow(zone, span.label, span.begun),
      plan.edge(span.from, span.fromEnd),
      plan.edge(span.to, span.toEnd),
      sign,
    );
  }

  #useStay(job: JobModel, plan: JobPlan, k: number, before: number, sign: number): void {
    const move = job.stages[k]!.move;
    const place = plan.place[k]!;
    const moved = before >= 0 && move >= 0 && plan.mode[move]! >= 0 && plan.end[move]! === plan.from[k]!;
    const start = moved ? plan.start[move]! : plan.from[k]!;
    this.#hold(place, start, plan.from[k]!, plan.to[k]!, sign);
    if (moved) {
      this.#pass(place, start, plan.from[k]!, sign);
      this.#pass(plan.place[before]!, start, plan.from[k]!, sign);
    } else if (before < 0) this.#pass(place, start, start + 1, sign);
  }

  #hold(place: number, start: number, from: number, to: number, sign: number): void {
    const { busy, cars, turnaround } = this.shop.places[place]!;
    this.levels.add(cars, start, to, sign);
    this.levels.add(busy, Math.min(start, from - turnaround), Math.min(NEVER, to + turnaround), sign);
  }

  /** A car passes the places that block `place`: no other car may hold them meanwhile. */
  #pass(place: number, from: number, to: number, sign: number): void {
    for (const blocker of this.shop.places[place]!.blockedBy) {
      const { busy, passages } = this.shop.places[blocker]!;
      this.levels.add(passages, from, to, sign);
      this.levels.add(busy, from, to, sign);
    }
  }

  /** How long after the soonest minute a car in the shop is taken to be done with its place and air; NEVER: not at all. */
  #patienceMinutes = NEVER;

  /**
   * Cars in the shop that are not entered are taken to hold place and air for ever, which is safe, but lets two that wait
   * for one another wait for ever. With a patience they are taken to be gone that long after the soonest they could be.
   */
  assumePatience(minutes: number): void {
    const unentered = this.jobs.filter((_, j) => this.plans[j] === null);
    for (const job of unentered) this.stand(job, -1);
    this.#patienceMinutes = minutes;
    for (const job of unentered) this.stand(job, 1);
  }

  /** What is known of a car in the shop before its job is entered: where it stood, where it stands, what air it began. */
  stand(job: JobModel, sign: number): void {
    if (!job.fixed) return;
    let since = -1;
    let place = -1;
    let gone = this.shop.now;
    for (let k = 0; k < job.stages.length; k++) {
      const stage = job.stages[k]!;
      const arrived = stage.fixedPlace < 0 ? -1 : arrivalFact(job, k);
      if (arrived < 0) continue;
      if (place >= 0) this.#hold(place, since, since, arrived, sign);
      since = arrived;
      place = stage.fixedPlace;
      for (let i = stage.opsFrom; i < stage.opsTo; i++) {
        if (job.operations[i]!.inStay) gone = Math.max(gone, job.soonest!.end[i]!);
      }
    }
    if (place >= 0) {
      const last = Math.min(departureFact(job, job.stages.length - 1), gone + this.#patienceMinutes, NEVER);
      this.#hold(place, since, since, last, sign);
    }
    for (const span of job.spans) {
      const stage = job.stages[span.stage]!;
      if (!span.begun || stage.fixedPlace < 0) continue;
      const { zone } = this.shop.places[stage.fixedPlace]!;
      const begun = job.operations[span.from]!;
      const closing = job.operations[span.to]!;
      const from = span.fromEnd ? begun.fixedEnd : begun.fixedStart;
      let to = NEVER;
      if (closing.fixing === 'pinned') to = span.toEnd ? closing.fixedEnd : closing.fixedStart;
      else if (job.soonest !== null) {
        const soonest = (span.toEnd ? job.soonest.end : job.soonest.start)[span.to]!;
        to = Math.min(NEVER, soonest + this.#patienceMinutes);
      }
      if (zone >= 0) this.levels.add(this.shop.airRow(zone, span.label, true), from, to, sign);
    }
  }

  /** The plan's tiers, added over the jobs that are entered. */
  objective(into: Float64Array): void {
    into.set(this.#totals);
    const makespan = this.shop.problem.tiers.indexOf('makespan');
    if (makespan < 0) return;
    into[makespan] = 0;
    for (let j = 0; j < this.jobs.length; j++) {
      if (this.plans[j] !== null) into[makespan] = Math.max(into[makespan]!, this.costs[j]![makespan]!);
    }
  }
}
