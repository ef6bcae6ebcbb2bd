import { NEVER } from '../../engine/calendar/never.ts';
import { END_TO_START, WAIT, type Window } from './arcs.ts';
import { BeginWork } from './begin-work.ts';
import { CarryOut } from './carry-out.ts';
import type { CompiledPlan } from './compile-plan.ts';
import { WorkDraws } from './draw-work.ts';
import { EquipmentPool } from './equipment-pool.ts';
import { Foresight } from './foresight.ts';
import type { NodeRules } from './node-rules.ts';
import { ON_DEMAND, PRESENT } from './plan-nodes.ts';
import type { ScenarioTimes } from './scenario-times.ts';
import type { ExecutionRules, SimulationInput } from './simulation-input.ts';
import { WorkedLog } from './worked-log.ts';

/** How often one window may send the work before it back to a later start, in one scenario. */
const MOST_RETURNS = 4;
const MOST_ROUNDS = 12;
const EQUIPMENT = WAIT.equipment;
const LAG = WAIT.lag;
const PERSON = WAIT.person;

/**
 * Carries a plan out again and again. Times of the last scenario are in `start` and `end`, by node; nothing is allocated
 * in a scenario. The floor keeps the plan's sequences on places, people and equipment; decides on planned work content
 * when to begin; redoes what has gone stale; and lets an overrun pause when its crew goes home.
 */
export class Replay implements ScenarioTimes {
  readonly plan: CompiledPlan;
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly present: Uint8Array;
  /** What each node's start came after last, for blame: node, kind of waiting and what it is about; -1 when nothing. */
  readonly boundBy: Int32Array;
  readonly boundKind: Uint8Array;
  readonly boundAbout: Int32Array;
  /** The earliest start that arcs alone allowed; the rest of the waiting is for hours, conditions and windows. */
  readonly arcsAllow: Int32Array;
  readonly draws: WorkDraws;
  readonly log: WorkedLog;
  /** Windows without remedy that were broken in this scenario. */
  broken = 0;
  /** Minutes worked past the end of somebody's hours in this scenario. */
  stayedOn = 0;
  readonly #begin: BeginWork;
  readonly #foresight: Foresight;
  readonly #work: CarryOut;
  readonly #pool: EquipmentPool;
  readonly #raised: Int32Array;
  readonly #returns: Int32Array;
  readonly #alwaysPresent: Uint8Array;
  readonly #operations: number;
  readonly #fillsGaps: boolean;
  #leastEnd = 0;

  constructor(plan: CompiledPlan, input: SimulationInput, rules: ExecutionRules) {
    const { count, start, end } = plan.nodes;
    this.plan = plan;
    this.start = start.slice();
    this.end = end.slice();
    this.present = new Uint8Array(count);
    this.#operations = plan.nodes.problem.operations.length;
    this.#fillsGaps = rules.queues === 'fillingGaps';
    this.#alwaysPresent = new Uint8Array(count);
    for (let n = 0; n < count; n++) if (plan.nodes.presence[n] === PRESENT) this.#alwaysPresent[n] = 1;
    this.boundBy = new Int32Array(count);
    this.boundKind = new Uint8Array(count);
    this.boundAbout = new Int32Array(count);
    this.arcsAllow = new Int32Array(count);
    this.draws = new WorkDraws(plan, input, rules);
    this.log = new WorkedLog(plan.keepsPieces, plan.counters);
    this.#countWhatHappened();
    this.#begin = new BeginWork(plan, this.log, rules);
    this.#foresight = new Foresight(plan, this, this.#begin);
    this.#work = new CarryOut(count, this.draws, this.log, rules);
    let mostUnits = 0;
    for (const { pools } of plan.rules) for (const { units } of pools) mostUnits = Math.max(mostUnits, units);
    this.#pool = new EquipmentPool(this, mostUnits);
    this.#raised = new Int32Array(count);
    this.#returns = new Int32Array(count);
  }

  /** What facts have drawn from their budgets until now. */
  #countWhatHappened(): void {
    const { nodes, rules } = this.plan;
    const { now, operations } = nodes.problem;
    for (let o = 0; o < operations.length; o++) {
      const { budget, calendar } = rules[o]!;
      if (budget === null || (nodes.settled[o] === 0 && nodes.underWay[o] === 0)) continue;
      this.log.drawBefore(o, calendar, budget, nodes.start[o]!, Math.min(now, nodes.end[o]!));
    }
  }

  run(scenario: number): void {
    const { nodes, order, rules } = this.plan;
    this.draws.draw(scenario);
    this.log.clear();
    this.#raised.fill(0);
    this.#returns.fill(0);
    this.#work.stayed.fill(0);
    this.broken = 0;
    this.present.set(this.#alwaysPresent);
    for (let k = 0; k < order.length; ) {
      const node = order[k]!;
      if (nodes.presence[node] === ON_DEMAND) {
        k++;
        continue;
      }
      const back = this.#carryOut(node, rules[node]!);
      if (back < 0) {
        k++;
        continue;
      }
      for (let again = back; again <= k; again++) this.#undo(order[again]!);
      k = back;
    }
    this.stayedOn = 0;
    for (let k = 0; k < order.length; k++) {
      const node = order[k]!;
      if (this.present[node] === 1) this.stayedOn += this.#work.stayed[node]!;
    }
  }

  #undo(node: number): void {
    if (this.log.keeps(node)) this.log.forget(node, this.plan.rules[node]!.budget);
  }

  /** Computes a node's times; returns the position to go back to when a window without remedy asks for it, else -1. */
  #carryOut(node: number, rules: NodeRules): number {
    const { nodes, position } = this.plan;
    if (nodes.settled[node] === 1) return -1;
    for (let k = 0; k < rules.remedies.length; k++) this.present[rules.remedies[k]!] = 0;
    this.#place(node, rules);
    if (rules.windowsInto.length === 0) return -1;
    this.#demandRemedies(node, rules);
    for (let round = 0; round < MOST_RETURNS; round++) {
      const late = this.#lateWindow(node, rules);
      if (late === null) return -1;
      const { from } = late;
      if (this.#returns[from]! >= MOST_RETURNS || !this.#canWait(from)) {
        this.broken++;
        return -1;
      }
      this.#returns[from] = this.#returns[from]! + 1;
      this.#raised[from] = Math.min(NEVER, this.start[from]! + this.#gap(late) - late.max);
      if (nodes.presence[from] !== ON_DEMAND || nodes.demandedAt[from] !== node) return position[from]!;
      this.#placeGroup(node, rules);
    }
    return -1;
  }

  #canWait(node: number): boolean {
    const { settled, underWay } = this.plan.nodes;
    return settled[node] === 0 && underWay[node] === 0 && this.start[node]! < NEVER;
  }

  #gap({ from, fromEnd, to, toEnd }: Window): number {
    return (toEnd ? this.end[to]! : this.start[to]!) - (fromEnd ? this.end[from]! : this.start[from]!);
  }

  #demandRemedies(node: number, rules: NodeRules): void {
    let demanded = false;
    for (let k = 0; k < rules.windowsInto.length; k++) {
      const window = rules.windowsInto[k]!;
      if (window.remedy.length === 0 || this.present[window.from] === 0 || this.#gap(window) <= window.max) continue;
      for (let r = 0; r < window.remedy.length; r++) {
        const remedy = window.remedy[r]!;
        if (this.plan.nodes.demandedAt[remedy] !== node || this.present[remedy] === 1) continue;
        this.present[remedy] = 1;
        demanded = true;
      }
    }
    if (demanded) this.#placeGroup(node, rules);
  }

  #placeGroup(node: number, rules: NodeRules): void {
    for (let k = 0; k < rules.remedies.length; k++) {
      const remedy = rules.remedies[k]!;
      if (this.present[remedy] === 0) continue;
      this.#undo(remedy);
      this.#place(remedy, this.plan.rules[remedy]!);
    }
    this.#undo(node);
    this.#place(node, rules);
  }

  /** A window into the node, or into one of its remedies, that is broken and has no remedy in place. */
  #lateWindow(node: number, rules: NodeRules): Window | null {
    for (let k = 0; k < rules.windowsInto.length; k++) {
      const window = rules.windowsInto[k]!;
      if (this.#isLate(window)) return window;
    }
    for (let r = 0; r < rules.remedies.length; r++) {
      const remedy = rules.remedies[r]!;
      if (this.present[remedy] === 0) continue;
      const { windowsInto } = this.plan.rules[remedy]!;
      for (let k = 0; k < windowsInto.length; k++) {
        const window = windowsInto[k]!;
        if (window.to !== node && this.#isLate(window)) return window;
      }
    }
    return null;
  }

  #isLate(window: Window): boolean {
    if (this.present[window.from] === 0 || this.#gap(window) <= window.max) return false;
    if (window.remedy.length === 0) return true;
    for (let r = 0; r < window.remedy.length; r++) if (this.present[window.remedy[r]!] === 0) return true;
    return false;
  }

  #place(node: number, rules: NodeRules): void {
    const { nodes, arcFirst } = this.plan;
    if (nodes.underWay[node] === 1) {
      const now = nodes.problem.now;
      const certain = this.draws.work[node]! === 0;
      if (!certain) this.end[node] = this.#work.endOf(node, rules, now);
      else {
        this.end[node] = nodes.end[node]!;
        if (this.log.keeps(node)) this.log.add(node, rules.calendar, now, nodes.end[node]!);
      }
      if (rules.budget !== null) this.log.draw(node, rules.budget);
      return;
    }
    const from = this.#allowedByArcs(node, arcFirst[node]!, arcFirst[node + 1]!, rules);
    this.arcsAllow[node] = from;
    const isWork = node < this.#operations;
    let start = Math.max(from, this.#raised[node]!);
    if (!isWork) {
      if (rules.opening !== null) start = rules.opening.nextInside(start);
      start = Math.min(NEVER, Math.max(start, this.#leastEnd));
      this.start[node] = start;
      this.end[node] = start;
      return;
    }
    const leastEnd = this.#leastEnd;
    for (let round = 0; ; round++) {
      start = this.#begin.earliest(node, start);
      if (rules.block !== null && start < NEVER) start = this.#foresight.startKeeping(node, rules.block, start);
      this.start[node] = Math.min(NEVER, start);
      this.end[node] = start >= NEVER ? NEVER : Math.min(NEVER, this.#work.endOf(node, rules, start));
      if (start >= NEVER || round >= MOST_ROUNDS) break;
      if (this.end[node]! < leastEnd) start += leastEnd - this.end[node]!;
      else {
        const clear = this.#clearStart(node, rules);
        if (clear <= start) break;
        start = clear;
      }
      // Not drawn from its budget yet.
      if (this.log.keeps(node)) this.log.forget(node, null);
    }
    if (rules.budget !== null && start < NEVER) this.log.draw(node, rules.budget);
  }

  /** The earliest start that everything waited for allows; `#leastEnd` is set to the earliest end. */
  #allowedByArcs(node: number, first: number, beyond: number, rules: NodeRules): number {
    const { arcFrom, arcEdges, arcLag, arcWaitsFor, arcAbout, base } = this.plan;
    const { start, end, present } = this;
    let from = base[node]!;
    let leastEnd = 0;
    let binding = -1;
    for (let a = first; a < beyond; a++) {
      const before = arcFrom[a]!;
      if (present[before] === 0) continue;
      const edges = arcEdges[a]!;
      // Most arcs bind nothing; somebody who is free by then need not be asked what they do first.
      if (edges === END_TO_START && end[before]! + arcLag[a]! <= from) continue;
      const at =
        this.#fillsGaps && edges === END_TO_START && (arcWaitsFor[a] === PERSON || arcWaitsFor[a] === EQUIPMENT)
          ? this.#queueFree(node, before, arcWaitsFor[a]!, arcAbout[a]!, from)
          : ((edges & 1) === 1 ? end[before]! : start[before]!) + arcLag[a]!;
      if ((edges & 2) === 2) {
        if (at > leastEnd) leastEnd = at;
      } else if (at > from) {
        from = at;
        binding = a;
      }
    }
    this.#leastEnd = leastEnd;
    this.boundBy[node] = binding < 0 ? -1 : arcFrom[binding]!;
    this.boundKind[node] = binding < 0 ? LAG : arcWaitsFor[binding]!;
    this.boundAbout[node] = binding < 0 ? -1 : arcAbout[binding]!;
    for (let p = 0; p < rules.pools.length; p++) {
      const free = this.#pool.unitFree(rules.pools[p]!, from);
      if (free <= from) continue;
      from = free;
      this.boundBy[node] = this.#pool.holder;
      this.boundKind[node] = EQUIPMENT;
      this.boundAbout[node] = -1;
    }
    return from;
  }

  /**
   * When somebody is free for work that could begin at `ready` and comes after another in the plan's order: whoever would stand
   * idle, waiting for that other's car, for as long as the work is planned to take, does it first.
   */
  #queueFree(node: number, before: number, kind: number, about: number, ready: number): number {
    const { arcFirst, arcFrom, arcEdges, arcWaitsFor, arcAbout, work } = this.plan;
    const done = ready + work[node]!;
    let other = before;
    while (other >= 0) {
      const late = this.present[other] === 1 && this.start[other]! >= done;
      if (this.present[other] === 1 && !late) return this.end[other]!;
      let next = -1;
      for (let a = arcFirst[other + 1]! - 1; a >= arcFirst[other]!; a--) {
        if (arcEdges[a] !== 1 || arcWaitsFor[a] !== kind) break;
        if (arcAbout[a] === about) next = arcFrom[a]!;
      }
      other = next;
    }
    return 0;
  }

  #clearStart(node: number, { clearOf }: NodeRules): number {
    const start = this.start[node]!;
    const end = this.end[node]!;
    for (let k = 0; k < clearOf.length; k++) {
      const first = this.log.firstPiece(clearOf[k]!);
      const beyond = first + this.log.pieceCount[clearOf[k]!]!;
      for (let p = first; p < beyond; p++) {
        if (this.log.pieceFrom[p]! < end && this.log.pieceTo[p]! > start) return this.log.pieceTo[p]!;
      }
    }
    return start;
  }
}
