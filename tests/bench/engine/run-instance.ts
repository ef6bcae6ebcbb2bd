import { readFileSync } from 'node:fs';
import { extname } from 'node:path';
import { check } from '../../../src/engine/check/check.ts';
import { provePortfolio } from '../../../src/engine/portfolio/prove-portfolio.ts';
import { READERS } from './instance-readers.ts';

export interface Result {
  readonly makespan: number | null;
  readonly lower: number;
  readonly status: 'optimal' | 'feasible' | 'infeasible' | 'unknown';
  readonly seconds: number;
  /** Whether the schedule passed the independent checker; true when there is none. */
  readonly checked: boolean;
  readonly work: number;
  /** First violations, when it did not pass. */
  readonly violations: readonly string[];
}

export interface Terms {
  readonly seconds: number;
  readonly seed: number;
  /** Measure processor time of this process, for a machine that is busy with other work. Only with one thread. */
  readonly processorTime: boolean;
  /** Threads for each instance. */
  readonly portfolio: number;
}

/** Solves one instance from its file alone: neither its name nor what is known of it reaches the solver. */
export async function runInstance(path: string, terms: Terms): Promise<Result> {
  const { seconds, seed, processorTime, portfolio } = terms;
  const clock = processorTime ? processorMs : () => performance.now();
  const problem = READERS[extname(path)]!(readFileSync(path, 'utf8'));
  const began = clock();
  const solution = await provePortfolio(problem, {
    seed,
    threads: portfolio,
    workLimit: Number.POSITIVE_INFINITY,
    timeLimitMs: seconds * 1000,
    clock,
  });
  const elapsed = (clock() - began) / 1000;
  const violations = solution.schedule === null ? [] : check(problem, solution.schedule).map(({ text }) => text);
  return {
    makespan: solution.objective?.[0] ?? null,
    lower: solution.bound[0] ?? 0,
    status: solution.status,
    seconds: Math.round(elapsed * 1000) / 1000,
    checked: violations.length === 0,
    work: solution.work,
    violations: violations.slice(0, 3),
  };
}

function processorMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}
