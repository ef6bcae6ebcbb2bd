import { ALWAYS } from '../constraints/task.ts';
import type { Brancher } from '../learn/search.ts';
import type { Model } from './model.ts';
import type { ModelledOperation } from './modelled-operation.ts';

/**
 * Where no literal has been active: the operation that can start earliest, of those the one that must start first, is
 * given the mode in which it ends earliest and its earliest start. What is left after the operations that are there (order
 * Booleans, objectives, optional work) takes its least value.
 */
export class EarliestStart implements Brancher {
  half = 0;
  bound = 0;
  private readonly model: Model;

  constructor(model: Model) {
    this.model = model;
  }

  choose(): boolean {
    const { bounds } = this.model.solver;
    const { operations } = this.model;
    let best: ModelledOperation | undefined;
    let bestStart = 0;
    let bestLatest = 0;
    for (let o = 0; o < operations.length; o++) {
      const operation = operations[o]!;
      if (!this.isThere(operation)) continue;
      const start = bounds.lower[operation.start]!;
      const latest = -bounds.lower[operation.start ^ 1]!;
      const undecided = start < latest || bounds.lower[operation.end]! < -bounds.lower[operation.end ^ 1]!;
      if (!undecided && !this.modeIsOpen(operation)) continue;
      if (best === undefined || start < bestStart || (start === bestStart && latest < bestLatest)) {
        best = operation;
        bestStart = start;
        bestLatest = latest;
      }
    }
    if (best !== undefined) {
      this.decideOn(best);
      return true;
    }
    for (let h = 0; h < bounds.halves; h += 2) {
      if (bounds.lower[h]! < -bounds.lower[h + 1]!) {
        this.half = h + 1;
        this.bound = -bounds.lower[h]!;
        return true;
      }
    }
    return false;
  }

  private isThere({ presence }: ModelledOperation): boolean {
    return presence === ALWAYS || this.model.solver.bounds.lower[presence]! >= 1 - (presence & 1);
  }

  private modeIsOpen({ modes }: ModelledOperation): boolean {
    const { bounds } = this.model.solver;
    for (let m = 0; m < modes.length; m++) {
      const p = modes[m]!.presence;
      if (p >= 0 && bounds.lower[p]! === 0 && bounds.lower[p ^ 1]! === -1) return true;
    }
    return false;
  }

  private decideOn(operation: ModelledOperation): void {
    const { bounds } = this.model.solver;
    const start = bounds.lower[operation.start]!;
    let mode = -1;
    let end = 0;
    for (let m = 0; m < operation.modes.length; m++) {
      const { presence, span } = operation.modes[m]!;
      if (presence < 0 || bounds.lower[presence]! !== 0 || bounds.lower[presence ^ 1]! !== -1) continue;
      const ends = span.end(span.next(start));
      if (mode < 0 || ends < end) {
        mode = presence;
        end = ends;
      }
    }
    if (mode >= 0) {
      this.half = mode;
      this.bound = 1;
    } else if (start < -bounds.lower[operation.start ^ 1]!) {
      this.half = operation.start ^ 1;
      this.bound = -start;
    } else {
      this.half = operation.end ^ 1;
      this.bound = -bounds.lower[operation.end]!;
    }
  }
}
