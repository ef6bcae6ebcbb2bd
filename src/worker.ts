import { randomUUID } from 'node:crypto';
import { availableParallelism } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { readConfiguration } from './configuration.ts';
import { privateLog } from './private-log.ts';
import { createAuthorship } from './shop/access/authorship.ts';
import type { ShopDeps } from './shop/deps.ts';
import { improvePlan } from './shop/planning/improve-plan.ts';
import { planQueued } from './shop/planning/plan-queued.ts';
import { createQueuedReplanner } from './shop/planning/queued-replanner.ts';
import { firstPlan } from './shop/planning/replan.ts';
import { createThinkingThreads } from './shop/planning/thinking-threads.ts';
import { createWorkerPlanner } from './shop/planning/worker-planner.ts';
import { createWorkerOutlooks } from './shop/promises/worker-outlooks.ts';
import { keepUpEvery } from './shop/upkeep/upkeep.ts';
import { migrate } from './store/migration/migrate.ts';
import { openStore } from './store/open-store.ts';
import { openPlanningQueue } from './store/planning-queue.ts';
import type { PlanningQueue } from './store/store.ts';
import type { Instant } from './trade/model/time.ts';

const UPKEEP_MS = 30_000;
const WORKER_GRACE_MS = 10_000;
const OUTLOOK_MS = 60_000;
const IDLE_MS = 200;
/** What is under way after this is handed back; a container engine waits ten seconds before it kills. */
const FINISH_MS = 6_000;
const STOP_MS = 9_000;

/** The composition root of a planning worker: takes shops that want a plan off the queue, plans, and stops in order. Serves nothing. */
async function main(): Promise<void> {
  setFlagsFromString('--heap-growing-percent=50');
  const configuration = readConfiguration({ ...process.env, PLANNING: 'queued' });
  const { DATABASE_URL: databaseUrl, PLAN_SEED: seed, PLANS_AT_ONCE: atOnce } = configuration;
  const log = privateLog(configuration.LOG_LEVEL);
  const say = (line: string) => process.stdout.write(`panelday: ${line}\n`);

  await migrate({ databaseUrl });
  const authorship = createAuthorship();
  const store = await openStore({ databaseUrl, logger: log, author: authorship.current });
  const queue = await openPlanningQueue(databaseUrl, log);
  const threads = createThinkingThreads({ most: Math.max(atOnce, availableParallelism() - 1), log });
  const planner = createWorkerPlanner({ threads, graceMs: WORKER_GRACE_MS, log });
  const outlooks = createWorkerOutlooks({ threads: threads.patient, seed, timeLimitMs: OUTLOOK_MS, log });
  const deps: ShopDeps = {
    store,
    planner,
    drafter: planner,
    outlooks,
    clock: () => Date.now() as Instant,
    newId: () => randomUUID(),
    seed,
    budget: { promptWork: 400_000, thoroughWork: 4_000_000, timeLimitMs: configuration.PLAN_BUDGET_MS },
    log,
    replanner: createQueuedReplanner({ queue, author: authorship.current, log }),
  };
  const work = planQueued({
    queue,
    replan: (shopId, reason, signal) => firstPlan(deps, { shopId, reason, signal }),
    improve: (shopId, signal) => improvePlan(deps, { shopId, signal }),
    inTheNameOf: ({ who, requestId }, act) => authorship.run({ who, requestId }, act),
    atOnce,
    idleMs: IDLE_MS,
    log,
  });
  const stopping = new AbortController();
  const upkeep = keepUpAlone(queue, deps, stopping.signal);
  const stop = async (signal: string) => {
    say(`${signal}: stopping`);
    setTimeout(() => process.exit(1), STOP_MS).unref();
    stopping.abort();
    await Promise.all([work.stop(FINISH_MS), upkeep]);
    await deps.replanner.close();
    await queue.close();
    await planner.close();
    await store.close();
    process.exit(0);
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => void stop(signal));
  say('ready to plan');
}

/** One worker of all keeps the shops up, and asks for the plans whose ask was lost with a server that died; another follows when it is gone. */
async function keepUpAlone(queue: PlanningQueue, deps: ShopDeps, stopped: AbortSignal): Promise<void> {
  while (!stopped.aborted) {
    try {
      await queue.alone('upkeep', async () => {
        const stopUpkeep = keepUpEvery(deps, UPKEEP_MS);
        try {
          while (!stopped.aborted) {
            for (const shopId of await deps.store.outbox.shopsWithNewsSincePlan()) {
              deps.replanner.ask(shopId, 'news that no plan knows of');
            }
            await pause(UPKEEP_MS, undefined, { signal: stopped });
          }
        } finally {
          await stopUpkeep();
        }
      });
      await pause(UPKEEP_MS, undefined, { signal: stopped });
    } catch (err) {
      if (stopped.aborted) return;
      deps.log.warn({ err }, 'the shops could not be kept up; it is tried again');
      await pause(UPKEEP_MS, undefined, { signal: stopped }).catch(() => {});
    }
  }
}

main().catch((error: unknown) => {
  process.stderr.write(`panelday: cannot plan: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(1);
});
