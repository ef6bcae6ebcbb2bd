import type { Problem } from '../problem/problem.ts';
import type { Solution } from '../problem/solution.ts';
import { prove } from '../prove/prove.ts';
import type { SolveOptions } from '../solve-options.ts';
import { Portfolio } from './portfolio.ts';

export interface PortfolioOptions extends SolveOptions {
  /** Proofs run at once, each in a thread of its own; 1 runs in this thread. */
  readonly threads: number;
  /** The compiled worker (`portfolio-worker.js`); by default the one beside this file. */
  readonly workerUrl?: URL;
}

/**
 * Proves a plain problem with several strategies at once, which share bounds and incumbents; the first to decide it ends
 * all. With one thread it is `prove`, and repeats; with more, who finds what first is the machine's affair, so that the
 * solution says `interrupted`. The work budget is that of each proof; the work told is that of all.
 */
export async function provePortfolio(problem: Problem, options: PortfolioOptions): Promise<Solution> {
  if (!Number.isInteger(options.threads) || options.threads < 1) {
    throw new RangeError(`threads must be a whole number of at least 1, not ${options.threads}`);
  }
  return options.threads === 1 ? prove(problem, options) : new Portfolio(problem, options).run();
}
