import { NEVER } from '../../engine/calendar/never.ts';
import type { Window } from './arcs.ts';
import { WAITS_FOR } from './arcs.ts';
import { BeginWork } from './begin-work.ts';
import type { CompiledPlan } from './compile-plan.ts';
import { WorkDraws } from './draw-work.ts';
import type { NodeRules } from './node-rules.ts';
import { ON_DEMAND, PRESENT } from './plan-nodes.ts';
import type { ExecutionRules, SimulationInput } from './simulation-input.ts';
import type { WindowBlock } from './window-blocks.ts';
import { WorkedLog } from './worked-log.ts';

/** How often one window may send the work before it back to a later start, in one scenario. */
const MOST_RETURNS = 4;
const MOST_ROUNDS = 12;
/** How far back interchangeable equipment is looked for among earlier users. */
const POOL_MEMORY = 256;
const EQUIPMENT = WAITS_FOR.indexOf('equipment');
const LAG = WAITS_FOR.indexOf('lag');

/**
 * Carries a plan out again and again. Times of the last scenario are in `start` and `end`, by node; nothing is allocated
 * in a scenario. The floor keeps the plan's sequences on places, people and equipment; decides on planned work content
 * when to begin; redoes what has gone stale; and lets an overrun pause when its crew goes home.
 */
export class Replay {
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
  readonly #rules: ExecutionRules;
  readonly #begin: BeginWork;
  readonly #raised: Int32Array;
  readonly #returns: Int32Array;
  readonly #inBlock: Int32Array;
  readonly #blockStart: Int32Array;
  readonly #blockEnd: Int32Array;
  readonly #latest = new Int32Array(64);
  readonly #stayed: Int32Array;
  readonly #alwaysPresent: Uint8Array;
  readonly #operations: number;
  #block = 0;
  #leastEnd = 0;

  constructor(plan: CompiledPlan, input: SimulationInput, rules: ExecutionRules) {
    const { count, start, end } = plan.nodes;
    this.plan = plan;
    this.start = start.slice();
    this.end = end.slice();
    this.present = new Uint8Array(count);
    this.#operations = plan.nodes.problem.operations.length;
    this.#alwaysPresent = plan.nodes.presence.map((presence) => (presence === PRESENT ? 1 : 0));
    this.boundBy = new Int32Array(count);
    this.boundKind = new Uint8Array(count);
    this.boundAbout = new Int32Array(count);
    this.arcsAllow = new Int32Array(count);
    this.draws = new WorkDraws(plan, input, rules.dayLogDeviation);
    this.log = new WorkedLog(plan.keepsPieces, plan.counters);
    this.#rules = rules;
    this.#begin = new BeginWork(plan, this.log, rules.graceMinutes);
    this.#raised = new Int32Array(count);
    this.#returns = new Int32Array(count);
    this.#inBlock = new Int32Array(count);
    this.#blockStart = new Int32Array(count);
    this.#blockEnd = new Int32Array(count);
    this.#stayed = new Int32Array(count);
  }

  run(scenario: number): void {
    const { nodes, order, rules } = this.plan;
    this.draws.draw(scenario);
    this.log.clear();
    this.#raised.fill(0);
    this.#returns.fill(0);
    this.#stayed.fill(0);
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
    for (let n = 0; n < this.#operations; n++) {
      if (this.present[n] === 1) this.stayedOn += this.#stayed[n]!;
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
      this.end[node] = certain ? nodes.end[node]! : this.#workFrom(node, rules, now);
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
      if (rules.block !== null && start < NEVER) start = this.#whenWindowsHold(node, rules.block, start);
      this.start[node] = Math.min(NEVER, start);
      this.end[node] = start >= NEVER ? NEVER : Math.min(NEVER, this.#workFrom(node, rules, start));
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
      const at = ((edges & 1) === 1 ? end[before]! : start[before]!) + arcLag[a]!;
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
      const free = this.#unitFree(rules.pools[p]!);
      if (free <= from) continue;
      from = free;
      this.boundBy[node] = this.#poolHolder;
      this.boundKind[node] = EQUIPMENT;
      this.boundAbout[node] = -1;
    }
    return from;
  }

  #poolHolder = -1;

  /** When the first of `units` interchangeable units is free: the units-th latest end among earlier users. */
  #unitFree({ units, members, index }: NodeRules['pools'][number]): number {
    if (index < units || units > this.#latest.length) return 0;
    const latest = this.#latest;
    let held = 0;
    for (let k = index - 1; k >= 0 && k >= index - POOL_MEMORY; k--) {
      const user = members[k]!;
      if (this.present[user] === 0) continue;
      const ends = this.end[user]!;
      if (held === units && ends <= latest[0]!) continue;
      // Insertion into the ascending list of the latest ends.
      let at = held < units ? held : 0;
      if (held < units) {
        while (at > 0 && latest[at - 1]! > ends) {
          latest[at] = latest[at - 1]!;
          at--;
        }
        held++;
      } else {
        while (at + 1 < units && latest[at + 1]! < ends) {
          latest[at] = latest[at + 1]!;
          at++;
        }
      }
      latest[at] = ends;
      if (at === 0) this.#poolHolder = user;
    }
    return held < units ? 0 : latest[0]!;
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

  /** The end of work begun at `start`, as this scenario drew it. */
  #workFrom(node: number, rules: NodeRules, start: number): number {
    const { calendar, budget, pausable } = rules;
    let work = this.draws.work[node]!;
    if (work === 0) return start;
    if (this.#rules.dayLogDeviation > 0) {
      work = Math.max(1, Math.round(work * this.draws.dayFactor[Math.floor(start / 1440)]!));
    }
    const keeps = this.log.keeps(node);
    this.#stayed[node] = 0;
    if (calendar === null) {
      if (keeps) this.log.add(node, null, start, start + work);
      return start + work;
    }
    if (!pausable) {
      const run = calendar.runAt(start);
      if (run < calendar.runFrom.length && calendar.runFrom[run]! <= start) {
        const end = calendar.endInRun(run, start, work);
        const over = end - calendar.runTo[run]!;
        if (over <= this.#rules.stayOnMinutes) {
          if (over > 0 && rules.open !== null) {
            this.#stayed[node] = over - rules.open.minutesIn(calendar.runTo[run]!, end);
          }
          if (keeps) this.log.add(node, null, start, end);
          return end;
        }
      }
    }
    if (budget !== null) return this.log.workWithin(node, calendar, budget, start, work);
    const end = calendar.endOf(start, work);
    if (keeps && end < NEVER) this.log.add(node, calendar, start, end);
    return end;
  }

  /** The earliest start at or after `from` from which, as planned, every window of the block is kept. */
  #whenWindowsHold(head: number, block: WindowBlock, from: number): number {
    const { members, windows } = block;
    const stamp = ++this.#block;
    this.#inBlock[head] = stamp;
    for (let m = 0; m < members.length; m++) {
      this.#inBlock[members[m]!] = stamp;
      this.#blockStart[members[m]!] = 0;
    }
    let start = from;
    for (let round = 0; round < MOST_ROUNDS && start < NEVER; round++) {
      this.#blockStart[head] = start;
      this.#blockEnd[head] = this.#begin.plannedEnd(head, start);
      for (let m = 0; m < members.length; m++) this.#foresee(members[m]!, head, stamp);
      const late = this.#lateInBlock(windows);
      if (late === null) return start;
      const over = this.#blockGap(late) - late.max;
      if (late.from === head) start = this.#begin.earliest(head, start + over);
      else this.#blockStart[late.from] = this.#blockStart[late.from]! + over;
    }
    return start;
  }

  #lateInBlock(windows: readonly Window[]): Window | null {
    for (let w = windows.length - 1; w >= 0; w--) {
      const window = windows[w]!;
      if (this.#blockEnd[window.to]! < NEVER && this.#blockGap(window) > window.max) return window;
    }
    return null;
  }

  #blockGap({ from, fromEnd, to, toEnd }: Window): number {
    return (
      (toEnd ? this.#blockEnd[to]! : this.#blockStart[to]!) -
      (fromEnd ? this.#blockEnd[from]! : this.#blockStart[from]!)
    );
  }

  /** When other work ends, as far as is known at `minute`: how long it will still take is not. */
  #expectedEnd(node: number, minute: number): number {
    const end = this.end[node]!;
    if (end <= minute || node >= this.#operations) return end;
    return Math.max(minute, this.#begin.plannedEnd(node, this.start[node]!));
  }

  /** Where a later node of the block would come, as planned, from what is known when its head is to begin. */
  #foresee(node: number, head: number, stamp: number): void {
    const { arcFirst, arcFrom, arcEdges, arcLag, base, position, work, nodes } = this.plan;
    let from = Math.max(base[node]!, this.#blockStart[node]!);
    let leastEnd = 0;
    for (let a = arcFirst[node]!; a < arcFirst[node + 1]!; a++) {
      const before = arcFrom[a]!;
      const atEnd = (arcEdges[a]! & 1) === 1;
      let at: number;
      if (this.#inBlock[before] === stamp) at = atEnd ? this.#blockEnd[before]! : this.#blockStart[before]!;
      else if (this.present[before] === 0) continue;
      else if (position[before]! < position[head]!) {
        at = atEnd ? this.#expectedEnd(before, this.#blockStart[head]!) : this.start[before]!;
      } else at = atEnd ? nodes.end[before]! : nodes.start[before]!;
      at += arcLag[a]!;
      if ((arcEdges[a]! & 2) === 2) leastEnd = Math.max(leastEnd, at);
      else if (at > from) from = at;
    }
    if (node >= this.#operations) {
      from = Math.max(from, leastEnd);
      this.#blockStart[node] = from;
      this.#blockEnd[node] = from;
      return;
    }
    const start = Math.min(NEVER, this.#begin.earliest(node, Math.max(from, leastEnd - work[node]!)));
    this.#blockStart[node] = start;
    this.#blockEnd[node] = start >= NEVER ? NEVER : this.#begin.plannedEnd(node, start);
  }
}
