import { Activity } from './activity.ts';
import { Bounds } from './bounds.ts';
import { Clauses } from './clauses.ts';
import { ConflictAnalysis } from './conflict-analysis.ts';
import { Explanation } from './explanation.ts';
import type { Explainer, Propagator, RisePropagator } from './propagator.ts';

export const DECISION = -1;
const CLAUSE = 0;

/** A propagator's place in the queue: cheap ones first. */
export type Priority = 0 | 1 | 2;

/**
 * The learning kernel: bounded integer variables, clauses over their bounds, and propagators that explain themselves.
 * It knows nothing of schedules.
 */
export class Solver {
  readonly bounds = new Bounds();
  readonly explanation = new Explanation();
  readonly clauses = new Clauses(this.bounds, this.explanation, CLAUSE);
  readonly activity: Activity;
  private readonly explainers: Explainer[] = [{ explain: (_half, _need, data) => this.clauses.explain(data) }];
  readonly analysis: ConflictAnalysis;

  /**
   * Work done so far, the unit in which budgets are counted: about a tenth of a microsecond. The solver counts trail
   * entries and learnt literals; propagators add what a run of theirs costs.
   */
  work = 0;
  conflicts = 0;
  /** True when the problem was found to have no solution at all. */
  failed = false;

  private readonly rises: RisePropagator[] = [];
  private readonly propagators: Propagator[] = [];
  private readonly priorities: number[] = [];
  private watchers: number[][] = [];
  private queued = new Uint8Array(16);
  private readonly queues = [new Int32Array(16), new Int32Array(16), new Int32Array(16)];
  private readonly queueSize = new Int32Array(3);
  private processed = 0;
  private sealed = false;

  constructor(decay = 0.95) {
    this.activity = new Activity(this.bounds, decay);
    this.analysis = new ConflictAnalysis(this.bounds, this.explanation, this.activity, this.explainers);
  }

  /** Gives a reason code under which the explainer will be asked. */
  addExplainer(explainer: Explainer): number {
    return this.explainers.push(explainer) - 1;
  }

  addRise(propagator: RisePropagator): void {
    this.rises.push(propagator);
  }

  /** Adds a queued propagator; `wakes` are the halves whose rise puts it in the queue. */
  addPropagator(propagator: Propagator, priority: Priority, wakes: Iterable<number>): void {
    const id = this.propagators.push(propagator) - 1;
    this.priorities.push(priority);
    while (this.watchers.length < this.bounds.halves) this.watchers.push([]);
    for (const h of new Set(wakes)) this.watchers[h]!.push(id);
  }

  /** Adds a clause at the root from literals (half, bound, half, bound, ...). */
  addClause(literals: readonly number[]): void {
    const { bounds } = this;
    const half: number[] = [];
    const bound: number[] = [];
    for (let k = 0; k < literals.length; k += 2) {
      const h = literals[k]!;
      const b = literals[k + 1]!;
      if (bounds.lower[h]! >= b) return;
      if (bounds.lower[h ^ 1]! >= 1 - b) continue;
      half.push(h);
      bound.push(b);
    }
    if (half.length === 0) this.failed = true;
    else if (half.length === 1) this.require(half[0]!, bound[0]!);
    else {
      this.clauses.seal();
      this.clauses.add(Int32Array.from(half), Int32Array.from(bound), half.length, 0);
    }
  }

  /** Makes a literal hold at the root. */
  require(h: number, b: number): void {
    this.backtrackTo(0);
    if (!this.bounds.raise(h, b, DECISION, 0)) {
      this.bounds.emptied = -1;
      this.failed = true;
    }
  }

  seal(): void {
    if (this.sealed) return;
    this.sealed = true;
    this.clauses.seal();
    while (this.watchers.length < this.bounds.halves) this.watchers.push([]);
    for (const rise of this.rises) rise.seal();
    this.queued = new Uint8Array(this.propagators.length);
    for (let p = 0; p < 3; p++) this.queues[p] = new Int32Array(this.propagators.length + 1);
    for (let id = 0; id < this.propagators.length; id++) this.wake(id);
  }

  /** Runs everything to a fixpoint; false on a conflict. */
  propagate(): boolean {
    const { bounds, clauses, rises, watchers } = this;
    for (;;) {
      while (this.processed < bounds.size) {
        const t = this.processed++;
        this.work += 2;
        if (!clauses.propagate(t)) return this.clearQueues();
        for (let k = 0; k < rises.length; k++) if (!rises[k]!.onRise(t)) return this.clearQueues();
        const woken = watchers[bounds.half[t]!]!;
        for (let k = 0; k < woken.length; k++) this.wake(woken[k]!);
      }
      const id = this.nextQueued();
      if (id < 0) return true;
      this.explanation.size = 0;
      if (!this.propagators[id]!.propagate()) return this.clearQueues();
    }
  }

  decide(h: number, b: number): void {
    this.bounds.openLevel();
    this.bounds.raise(h, b, DECISION, 0);
  }

  backtrackTo(level: number): void {
    if (level >= this.bounds.level) return;
    this.bounds.backtrackTo(level);
    this.activity.backtrackTo(level);
    this.processed = this.bounds.size;
  }

  /** Learns from the conflict just met and goes back; false when there is no solution at all. */
  learn(): boolean {
    const { bounds, analysis } = this;
    this.conflicts++;
    if (!analysis.run()) {
      this.failed = true;
      return false;
    }
    bounds.backtrackTo(analysis.backLevel);
    this.activity.backtrackTo(analysis.backLevel);
    this.processed = bounds.size;
    this.work += 4 * analysis.size;
    const { half, bound, size } = analysis;
    if (size === 1) bounds.raise(half[0]!, bound[0]!, DECISION, 0);
    else {
      const c = this.clauses.add(half, bound, size, analysis.lbd);
      bounds.raise(half[0]!, bound[0]!, CLAUSE, c);
    }
    this.activity.decayAll();
    return true;
  }

  /** At level 0 after a fixpoint: what holds needs no reason any more. */
  commitRoot(): void {
    this.bounds.commitRoot();
    this.processed = 0;
  }

  private wake(id: number): void {
    if (this.queued[id] !== 0) return;
    this.queued[id] = 1;
    const p = this.priorities[id]!;
    this.queues[p]![this.queueSize[p]!++] = id;
  }

  private nextQueued(): number {
    for (let p = 0; p < 3; p++) {
      if (this.queueSize[p]! > 0) {
        const id = this.queues[p]![--this.queueSize[p]!]!;
        this.queued[id] = 0;
        return id;
      }
    }
    return -1;
  }

  private clearQueues(): false {
    this.processed = this.bounds.size;
    while (this.nextQueued() >= 0);
    return false;
  }
}
