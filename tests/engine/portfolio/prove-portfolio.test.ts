import { execFile } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { provePortfolio } from '../../../src/engine/portfolio/prove-portfolio.ts';
import { provable } from '../../../src/engine/prove/provable.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import type { Progress } from '../../../src/engine/solve-options.ts';
import { hardShop, plainProblem } from '../prove/a-shop.ts';
import { type Flavour, randomProblem } from '../prove/random-problem.ts';

const compiled = new URL('../../../.cache/portfolio-tests/portfolio/', import.meta.url);
const workerUrl = new URL('portfolio-worker.js', compiled);

/** Threads run compiled JavaScript. */
beforeAll(async () => {
  const tsc = new URL('../../../node_modules/typescript/bin/tsc', import.meta.url).pathname;
  const config = new URL('./tsconfig.json', import.meta.url).pathname;
  await promisify(execFile)(process.execPath, [tsc, '-p', config]);
}, 60_000);

/** A worker for the tests, written beside the compiled one. */
async function worker(name: string, code: string): Promise<URL> {
  const url = new URL(`${name}.mjs`, compiled);
  await writeFile(url, code);
  return url;
}

const flavours: readonly Flavour[] = [
  { operations: 5, horizon: 12, modes: false, calendars: false, maximumLags: true, tiers: ['makespan'] },
  { operations: 4, horizon: 10, modes: true, calendars: true, maximumLags: false, tiers: ['tardiness', 'makespan'] },
];

describe('a portfolio of proofs', () => {
  it('of two threads agrees with one', async () => {
    const statuses = new Set<string>();
    for (const flavour of flavours) {
      for (let seed = 1; seed <= 6; seed++) {
        const problem = randomProblem(seed, flavour);
        if (!provable(problem)) continue;
        const alone = prove(problem, { seed, workLimit: 1e7 });
        const together = await provePortfolio(problem, { seed, workLimit: 1e7, threads: 2, workerUrl });
        expect(together.status, `seed ${seed}`).toBe(alone.status);
        expect(together.objective).toEqual(alone.objective);
        expect(together.interrupted).toBe(true);
        if (together.schedule !== null) expect(check(problem, together.schedule)).toEqual([]);
        statuses.add(together.status);
      }
    }
    expect([...statuses].sort()).toEqual(['infeasible', 'optimal']);
  });

  it('of one thread repeats', async () => {
    const options = { seed: 3, workLimit: 1_000_000, threads: 1 };
    const solution = await provePortfolio(hardShop(), options);
    expect(solution).toEqual(await provePortfolio(hardShop(), options));
    expect(solution.interrupted).toBe(false);
  });

  it('of no threads, or half a one, is refused by name', async () => {
    for (const threads of [0, 1.5, -1]) {
      await expect(provePortfolio(hardShop(), { seed: 1, workLimit: 1, threads })).rejects.toThrow('threads');
    }
  });

  it('stops all its proofs when it is cancelled, with the best that any of them had told', async () => {
    const told: Progress[] = [];
    const problem = hardShop();
    const solution = await provePortfolio(problem, {
      seed: 3,
      workLimit: Number.POSITIVE_INFINITY,
      threads: 2,
      workerUrl,
      cancelled: () => told.length > 0,
      onProgress: (progress) => told.push(progress),
    });
    const lengths = told.map(({ objective }) => objective[0]!);
    expect(lengths).toEqual([...new Set(lengths)].sort((a, b) => b - a));
    expect(solution.objective).toEqual([Math.min(...lengths)]);
    expect(solution.bound[0]).toBeLessThanOrEqual(solution.objective![0]!);
    expect(check(problem, solution.schedule!)).toEqual([]);
  });

  it('ends when the clock of the caller says so', async () => {
    let now = 0;
    const clock = () => now++;
    const options = { seed: 3, workLimit: Number.POSITIVE_INFINITY, threads: 2, workerUrl, clock, timeLimitMs: 3 };
    const solution = await provePortfolio(hardShop(), options);
    expect(solution.interrupted).toBe(true);
    expect(solution.status).not.toBe('infeasible');
  });

  it('has its answer from the proofs that are left when one crashes', async () => {
    const half = await worker(
      'half-worker',
      `import { workerData } from 'node:worker_threads';
       if (workerData.index === 1) throw new Error('lost');
       await import('./portfolio-worker.js');`,
    );
    const problem = randomProblem(3, flavours[1]!);
    const alone = prove(problem, { seed: 3, workLimit: 1e7 });
    const solution = await provePortfolio(problem, { seed: 3, workLimit: 1e7, threads: 2, workerUrl: half });
    expect(solution.status).toBe(alone.status);
    expect(solution.objective).toEqual(alone.objective);
  });

  it('keeps what was told by proofs that have all crashed, and fails when none told anything', async () => {
    const problem = plainProblem([{ modes: [{ work: 4, uses: [{ resource: 0, amount: 1 }] }] }], [], [1]);
    const incumbent = { schedule: { operations: [{ start: 0, end: 4, mode: 0 }], stays: [] }, objective: [4] };
    const torn = await worker(
      'torn-worker',
      `import { parentPort } from 'node:worker_threads';
       parentPort.postMessage({ kind: 'incumbent', incumbent: ${JSON.stringify(incumbent)} });
       throw new Error('lost');`,
    );
    const options = { seed: 1, workLimit: 1e6, threads: 2 };
    const kept = await provePortfolio(problem, { ...options, workerUrl: torn });
    expect(kept).toMatchObject({ status: 'feasible', objective: [4], schedule: incumbent.schedule });
    const dead = await worker('dead-worker', "throw new Error('lost');");
    await expect(provePortfolio(problem, { ...options, workerUrl: dead })).rejects.toThrow('every proof');
  });
});
