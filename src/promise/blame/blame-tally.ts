import { NEVER } from '../../engine/calendar/never.ts';
import { WAITS_FOR, type WaitsFor } from '../simulate/arcs.ts';
import type { CompiledPlan } from '../simulate/compile-plan.ts';
import type { Replay } from '../simulate/replay.ts';

/** An operation's part in a job's lateness. */
export interface BlamedOperation {
  readonly operation: number;
  /** Share of the late scenarios in which it lay on the chain that made the job late. */
  readonly shareOfLate: number;
  /** Minutes by which its work exceeded its planned work, mean over the late scenarios. */
  readonly overrunMinutes: number;
}

/** What the chain waited at: somebody or something that another car had first. */
export interface BlamedResource {
  /** `hours`: nobody was in, the shop was closed, or the air was not fit. */
  readonly kind: Exclude<WaitsFor, 'lag' | 'stay' | 'order'> | 'hours';
  /** The place, resource or air zone; -1 when it is none of these. */
  readonly about: number;
  readonly shareOfLate: number;
}

export interface JobBlame {
  /** Probability of being late at all. */
  readonly late: number;
  /** Greatest overrun first. */
  readonly operations: readonly BlamedOperation[];
  /** Most often waited for first. */
  readonly resources: readonly BlamedResource[];
}

const MOST_NAMED = 8;
/** Late scenarios of a job whose chains are followed; more would not change what is named first. */
const MOST_FOLLOWED = 100;
const HOURS = WAITS_FOR.length;
/** Waiting for one's own car is no waiting for somebody else. */
const OWN = WAITS_FOR.map((name) => name === 'lag' || name === 'stay' || name === 'order');

/**
 * Adds up, over the late scenarios of each job, the chain of work that made it late: from pickup backwards, each time to
 * what the start had waited for last. The share of scenarios in which an operation is on the chain is its criticality
 * index (R. M. Van Slyke, "Monte Carlo methods and the PERT problem", Operations Research 11, 1963).
 */
export class BlameTally {
  readonly #plan: CompiledPlan;
  readonly #late: Int32Array;
  readonly #onChain: Map<number, Float64Array>[] = [];
  readonly #waits: Map<number, Int32Array>[] = [];
  readonly #stamp: Int32Array;
  #chain = 0;

  constructor(plan: CompiledPlan) {
    const jobs = plan.nodes.problem.jobs.length;
    this.#plan = plan;
    this.#late = new Int32Array(jobs);
    for (let j = 0; j < jobs; j++) {
      this.#onChain.push(new Map());
      this.#waits.push(new Map());
    }
    this.#stamp = new Int32Array(plan.nodes.count);
  }

  /**
   * Follows the chain of a scenario in which the job was late.
   * @param last the node that came too late; `byItsEnd`: at its end, so that its own overrun counts.
   */
  blame(replay: Replay, job: number, last: number, byItsEnd = false): void {
    this.#late[job] = this.#late[job]! + 1;
    if (this.#late[job]! > MOST_FOLLOWED) return;
    const { nodes, work } = this.#plan;
    const operations = nodes.problem.operations.length;
    const stamp = ++this.#chain;
    const chains = this.#onChain[job]!;
    for (let node = last; node >= 0 && this.#stamp[node] !== stamp; ) {
      this.#stamp[node] = stamp;
      if (node < operations && nodes.settled[node] === 0) {
        let entry = chains.get(node);
        if (entry === undefined) {
          entry = new Float64Array(2);
          chains.set(node, entry);
        }
        entry[0] = entry[0]! + 1;
        const overrun = replay.draws.work[node]! - work[node]!;
        if ((byItsEnd || node !== last) && nodes.underWay[node] === 0) entry[1] = entry[1]! + overrun;
      }
      if (nodes.settled[node] === 1 || nodes.underWay[node] === 1) break;
      if (replay.start[node]! > replay.arcsAllow[node]! && replay.start[node]! < NEVER)
        this.#waited(job, HOURS, -1, stamp);
      const kind = replay.boundKind[node]!;
      const before = replay.boundBy[node]!;
      if (before >= 0 && !OWN[kind]!) this.#waited(job, kind, replay.boundAbout[node]!, stamp);
      node = before;
    }
  }

  #waited(job: number, kind: number, about: number, stamp: number): void {
    const key = kind * 65_536 + about + 1;
    let entry = this.#waits[job]!.get(key);
    if (entry === undefined) {
      entry = new Int32Array(2);
      this.#waits[job]!.set(key, entry);
    }
    if (entry[1] === stamp) return;
    entry[1] = stamp;
    entry[0] = entry[0]! + 1;
  }

  of(job: number, scenarios: number): JobBlame {
    const late = this.#late[job]!;
    const followed = Math.min(late, MOST_FOLLOWED);
    return {
      late: late / scenarios,
      operations: this.#operations(job, followed),
      resources: this.#resources(job, followed),
    };
  }

  #operations(job: number, followed: number): BlamedOperation[] {
    const blamed: BlamedOperation[] = [];
    for (const [operation, [count, overrun]] of this.#onChain[job]!) {
      blamed.push({ operation, shareOfLate: count! / followed, overrunMinutes: overrun! / followed });
    }
    return blamed.sort(greatestOverrunFirst).slice(0, MOST_NAMED);
  }

  #resources(job: number, followed: number): BlamedResource[] {
    const blamed: BlamedResource[] = [];
    for (const [key, [count]] of this.#waits[job]!) {
      const number = Math.floor(key / 65_536);
      const kind = number === HOURS ? 'hours' : (WAITS_FOR[number] as BlamedResource['kind']);
      blamed.push({ kind, about: (key % 65_536) - 1, shareOfLate: count! / followed });
    }
    return blamed.sort(mostOftenFirst).slice(0, MOST_NAMED);
  }
}

const greatestOverrunFirst = (a: BlamedOperation, b: BlamedOperation): number =>
  b.overrunMinutes - a.overrunMinutes || a.operation - b.operation;

const mostOftenFirst = (a: BlamedResource, b: BlamedResource): number =>
  b.shareOfLate - a.shareOfLate || a.about - b.about;
