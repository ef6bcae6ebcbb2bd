import { NEVER } from '../../engine/calendar/never.ts';
import { FROM_END, TO_END, type Window } from './arcs.ts';
import type { BeginWork } from './begin-work.ts';
import type { CompiledPlan } from './compile-plan.ts';
import { EARLIER, ForeseenBlock, INSIDE } from './foreseen-block.ts';
import type { ScenarioTimes } from './scenario-times.ts';
import type { WindowBlock } from './window-blocks.ts';

/** A block is looked through anew at most this often before its head begins as it may. */
const MOST_ROUNDS = 12;

/**
 * Looks ahead from work that opens windows: it begins only when, by planned work and what is known then, everything its
 * windows lead to follows in time.
 */
export class Foresight {
  readonly #plan: CompiledPlan;
  readonly #times: ScenarioTimes;
  readonly #begin: BeginWork;
  readonly #operations: number;
  /** By head, once it was asked for. */
  readonly #blocks: (ForeseenBlock | undefined)[];
  readonly #blockStart: Int32Array;
  readonly #blockEnd: Int32Array;

  constructor(plan: CompiledPlan, times: ScenarioTimes, begin: BeginWork) {
    const { count, problem } = plan.nodes;
    this.#plan = plan;
    this.#times = times;
    this.#begin = begin;
    this.#operations = problem.operations.length;
    this.#blocks = new Array(count).fill(undefined);
    this.#blockStart = new Int32Array(count);
    this.#blockEnd = new Int32Array(count);
  }

  /** The earliest start at or after `from` from which, as planned, every window of the block is kept. */
  startKeeping(head: number, block: WindowBlock, from: number): number {
    const { members, windows } = block;
    this.#blocks[head] ??= new ForeseenBlock(this.#plan, block);
    const foreseen = this.#blocks[head];
    for (let m = 0; m < members.length; m++) this.#blockStart[members[m]!] = 0;
    let start = from;
    for (let round = 0; round < MOST_ROUNDS && start < NEVER; round++) {
      this.#blockStart[head] = start;
      this.#blockEnd[head] = this.#begin.plannedEnd(head, start);
      for (let m = 0; m < members.length; m++) this.#foresee(foreseen, m, start);
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
    const end = this.#times.end[node]!;
    if (end <= minute || node >= this.#operations) return end;
    return Math.max(minute, this.#begin.plannedEnd(node, this.#times.start[node]!));
  }

  /** Where a later node of the block would come, as planned, from what is known at `minute`, when its head is to begin. */
  #foresee(
    { block, base, leastEnd: leastEnds, arcFirst, arcFrom, arcLag, arcEdges, arcComes }: ForeseenBlock,
    m: number,
    minute: number,
  ): void {
    const node = block.members[m]!;
    let from = Math.max(base[m]!, this.#blockStart[node]!);
    let leastEnd = leastEnds[m]!;
    const beyond = arcFirst[m + 1]!;
    for (let a = arcFirst[m]!; a < beyond; a++) {
      const before = arcFrom[a]!;
      const edges = arcEdges[a]!;
      const atEnd = (edges & FROM_END) !== 0;
      const comes = arcComes[a]!;
      let at: number;
      if (comes === INSIDE) at = atEnd ? this.#blockEnd[before]! : this.#blockStart[before]!;
      else if (this.#times.present[before] === 0) continue;
      else if (comes === EARLIER) at = atEnd ? this.#expectedEnd(before, minute) : this.#times.start[before]!;
      else at = atEnd ? this.#plan.nodes.end[before]! : this.#plan.nodes.start[before]!;
      at += arcLag[a]!;
      if ((edges & TO_END) !== 0) leastEnd = Math.max(leastEnd, at);
      else if (at > from) from = at;
    }
    if (node >= this.#operations) {
      from = Math.max(from, leastEnd);
      this.#blockStart[node] = from;
      this.#blockEnd[node] = from;
      return;
    }
    const start = this.#begin.earliest(node, Math.max(from, leastEnd - this.#plan.work[node]!));
    this.#blockStart[node] = Math.min(NEVER, start);
    this.#blockEnd[node] = start >= NEVER ? NEVER : this.#begin.plannedEnd(node, start);
  }
}
