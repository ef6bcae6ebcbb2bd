import type { Budget } from '../problem/problem.ts';
import { beginnings, ends } from './interval-set.ts';

/** A budget's windows in flat arrays, with where its windows' counters begin among all budgets' counters. */
export class BudgetWindows {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly limit: number;
  readonly firstCounter: number;

  constructor(budget: Budget, firstCounter: number) {
    this.from = beginnings(budget.windows);
    this.to = ends(budget.windows);
    this.limit = budget.limit;
    this.firstCounter = firstCounter;
  }

  /** Index of the window that holds `minute`, or else of the first one after it. */
  windowAt(minute: number): number {
    let low = 0;
    let high = this.to.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (this.to[middle]! <= minute) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
