import { execFile } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { solve } from '../../../src/engine/solve.ts';
import { book } from '../../../src/shop/booking/book.ts';
import { draftPlan } from '../../../src/shop/planning/draft-plan.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { createThinkingThreads } from '../../../src/shop/planning/thinking-threads.ts';
import { createWorkerPlanner } from '../../../src/shop/planning/worker-planner.ts';
import { Busy } from '../../../src/shop/problems/problems.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

const compiled = new URL('../../../.cache/planner-tests/', import.meta.url);

/** Workers run compiled JavaScript. Errors in files that are being edited do not keep the compiler from writing. */
beforeAll(async () => {
  const tsc = new URL('../../../node_modules/typescript/bin/tsc', import.meta.url).pathname;
  const run = promisify(execFile)(process.execPath, [tsc, '-p', 'tsconfig.build.json', '--outDir', compiled.pathname], {
    cwd: new URL('../../../', import.meta.url).pathname,
  });
  await run.catch(() => {});
}, 120_000);

const log = { info() {}, warn() {}, error() {} };

function planner(file = 'shop/planning/plan-worker.js', graceMs = 10_000) {
  const made = createWorkerPlanner({
    threads: createThinkingThreads({ most: 1, log }),
    graceMs,
    log,
    workerUrl: new URL(file, compiled),
  });
  onTestFinished(() => made.close());
  return made;
}

/** Two pieces of work, one after the other, for one person. */
const twoPieces: Problem = {
  horizon: 1000,
  now: 0,
  progresses: [],
  resources: [{ name: 'Ada', capacity: 100, kind: 'person' }],
  budgets: [],
  places: [],
  zones: [],
  airLabels: [],
  airExclusions: [],
  jobs: [{ name: 'job', stays: [], release: 0 }],
  operations: ['first', 'second'].map((name) => ({
    name,
    job: 0,
    modes: [{ work: 30, uses: [{ resource: 0, amount: 100 }] }],
    pausable: false,
    presence: 'always',
  })),
  stays: [],
  lags: [{ from: { operation: 0, edge: 'end' }, to: { operation: 1, edge: 'start' }, min: 0 }],
  branches: [],
  sameCrew: [],
  airSpans: [],
  stills: [],
  takenPlaces: [],
  takenResources: [],
  tiers: ['makespan'],
};

describe('a planning worker', () => {
  test('gives the plan that the same search gives here', async () => {
    const options = { seed: 3, workLimit: 1000 };
    const there = await planner().plan(twoPieces, options);
    expect(there).toEqual(solve(twoPieces, options));
    expect(there.objective).toEqual([60]);
  });

  test('is not asked at all when the asking was cancelled before', async () => {
    const cancelled = planner().plan(twoPieces, { seed: 3, workLimit: 1000 }, undefined, AbortSignal.abort());
    await expect(cancelled).rejects.toThrow(Busy);
  });

  test('that dies is replaced, and its caller is told to try again', async () => {
    const made = planner();
    const unplannable = { ...twoPieces, operations: null } as unknown as Problem;
    await expect(made.plan(unplannable, { seed: 3, workLimit: 1000 })).rejects.toThrow(Busy);
    expect((await made.plan(twoPieces, { seed: 3, workLimit: 1000 })).objective).toEqual([60]);
  });

  test('that never answers is stopped after its time and replaced', async () => {
    const begun = 'Atomics.store(standing, 0, 1);';
    const deaf = `export default ({ port, standing }) => { ${begun} port.postMessage({ kind: 'started' }); for (;;); };`;
    await writeFile(new URL('deaf-worker.js', compiled), deaf);
    const made = planner('deaf-worker.js', 50);
    await expect(made.plan(twoPieces, { seed: 3, workLimit: 1000, timeLimitMs: 50 })).rejects.toThrow(/replaced/);
  });

  test('whose code cannot be loaded fails whoever asks, and not the process', async () => {
    await writeFile(new URL('torn-worker.js', compiled), "import { nothing } from './deaf-worker.js';");
    const made = planner('torn-worker.js');
    await expect(made.plan(twoPieces, { seed: 3, workLimit: 1000 })).rejects.toThrow(Busy);
  });
});

describe('a whole plan drafted by a worker', () => {
  const searched = { reason: 'test', workLimit: 2000 };

  test('is the plan that is drafted here', async () => {
    const { deps, shopId } = await aShop();
    await book(deps, { shopId, request: aRequest('walkInWash'), dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
    const loaded = await loadBook(deps.store, shopId, deps.clock());
    const terms = { seed: deps.seed, timeLimitMs: 60_000 };
    const there = await planner().draft(loaded, searched, terms);
    const { plan, released, exceptions, notKept } = await draftPlan(deps, loaded, searched);
    expect(there).toEqual({ plan, released, exceptions, notKept });
    expect(there.plan.operations.length).toBeGreaterThan(3);
  });

  test('is given up with words when the asking was cancelled, or the worker cannot do it', async () => {
    const { deps, shopId } = await aShop();
    const loaded = await loadBook(deps.store, shopId, deps.clock());
    const terms = { seed: 1, timeLimitMs: 60_000 };
    const cancelled = planner().draft(loaded, { ...searched, signal: AbortSignal.abort() }, terms);
    await expect(cancelled).rejects.toThrow(Busy);
    const torn = planner().draft({ ...loaded, recipes: null } as never, searched, terms);
    await expect(torn).rejects.toThrow(Busy);
  });

  test('that is cancelled keeps nobody waiting until its thread has noticed', async () => {
    // The draft's worker lies beside the plan's: this one hears nothing, and works on until its grace is over.
    const folder = new URL('deaf/', compiled);
    await mkdir(folder, { recursive: true });
    const deaf = 'export default ({ standing }) => { Atomics.store(standing, 0, 1); for (;;); };';
    await writeFile(new URL('draft-worker.js', folder), deaf);
    const { deps, shopId } = await aShop();
    const loaded = await loadBook(deps.store, shopId, deps.clock());
    const cancelling = new AbortController();
    const made = planner('deaf/plan-worker.js', 600_000);
    const terms = { seed: 1, timeLimitMs: 60_000 };
    const drafted = made.draft(loaded, { ...searched, signal: cancelling.signal }, terms);
    cancelling.abort();
    await expect(drafted).rejects.toThrow('cancelled');
  });
});
