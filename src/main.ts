import { randomUUID } from 'node:crypto';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { setFlagsFromString } from 'node:v8';
import { buildApp } from './api/app.ts';
import { type Configuration, ConfigurationError, readConfiguration } from './configuration.ts';
import { helpersGiveWay } from './helpers-give-way.ts';
import { privateLog } from './private-log.ts';
import { createAuthorship } from './shop/access/authorship.ts';
import { firstAdministrator } from './shop/access/first-administrator.ts';
import { createWhoAsks } from './shop/access/who-asks.ts';
import { keepDeskReady } from './shop/booking/keep-desk-ready.ts';
import { createWorkerDesk } from './shop/booking/worker-desk.ts';
import type { CustomerService } from './shop/customer/deps.ts';
import { linkTokens } from './shop/customer/link-tokens.ts';
import { loadDemo } from './shop/demo/load-demo.ts';
import type { ShopDeps } from './shop/deps.ts';
import { startMessenger } from './shop/messages/messenger.ts';
import { createWorkerMonthPlanner } from './shop/owner-what-ifs/month-planner.ts';
import { improvePlan } from './shop/planning/improve-plan.ts';
import { createQueuedReplanner } from './shop/planning/queued-replanner.ts';
import { firstPlan } from './shop/planning/replan.ts';
import { createReplanner } from './shop/planning/replanner.ts';
import { createThinkingThreads } from './shop/planning/thinking-threads.ts';
import { warmUp } from './shop/planning/warm-up.ts';
import { createWorkerPlanner } from './shop/planning/worker-planner.ts';
import { createWorkerOutlooks } from './shop/promises/worker-outlooks.ts';
import { keepUpEvery } from './shop/upkeep/upkeep.ts';
import { databaseTrouble } from './store/database-trouble.ts';
import { migrate } from './store/migration/migrate.ts';
import { openStore } from './store/open-store.ts';
import type { PlanningQueue } from './store/store.ts';
import type { ShopId } from './trade/model/ids.ts';
import type { Instant } from './trade/model/time.ts';

const VERSION = '0.1.0';
const UPKEEP_MS = 30_000;
const DEBOUNCE_MS = 200;
const WORKER_GRACE_MS = 10_000;
const STOP_MS = 10_000;
const DESK_MS = 20_000;
const OUTLOOK_MS = 60_000;
const DESK_QUIET_MS = 150;
const DEMO_PLAN_MS = 30_000;
const MESSENGER_MS = 20_000;

/** The composition root: makes everything, wires it, serves, and stops in order. */
async function main(): Promise<void> {
  helpersGiveWay();
  // Every thread's heap may grow by half over what lives in it before it is swept, not fourfold; unknown to an engine, it does nothing.
  setFlagsFromString('--heap-growing-percent=50');
  const configuration = readConfiguration(process.env);
  const log = privateLog(configuration.LOG_LEVEL);
  const say = (line: string) => process.stdout.write(`panelday: ${line}\n`);

  const applied = await migrate({ databaseUrl: configuration.DATABASE_URL });
  if (applied.length > 0) say(`database brought up to date (${applied.join(', ')})`);
  const authorship = createAuthorship();
  const store = await openStore({
    databaseUrl: configuration.DATABASE_URL,
    logger: log,
    author: authorship.current,
  });
  const threads = createThinkingThreads({ most: availableParallelism() - 1, log });
  const planner = createWorkerPlanner({
    threads,
    graceMs: WORKER_GRACE_MS,
    log,
  });
  const desk = createWorkerDesk({ seed: configuration.PLAN_SEED, timeLimitMs: DESK_MS, log });
  const months = createWorkerMonthPlanner({ threads: threads.patient, seed: configuration.PLAN_SEED, log });
  const outlooks = createWorkerOutlooks({
    threads: threads.patient,
    seed: configuration.PLAN_SEED,
    timeLimitMs: OUTLOOK_MS,
    log,
  });
  const queue = configuration.PLANNING === 'queued' ? await queueOf(configuration, log) : null;
  const deps: ShopDeps = {
    store,
    planner,
    drafter: planner,
    desk,
    outlooks,
    clock: () => Date.now() as Instant,
    newId: () => randomUUID(),
    seed: configuration.PLAN_SEED,
    budget: budgetOf(configuration),
    log,
    replanner:
      queue !== null
        ? createQueuedReplanner({ queue, author: authorship.current, log })
        : createReplanner({
            replan: (shopId, reason, signal) => firstPlan(deps, { shopId, reason, signal }),
            improve: (shopId, signal) => improvePlan(deps, { shopId, signal }),
            debounceMs: DEBOUNCE_MS,
            log,
          }),
  };

  let demoShop: ShopId | null = null;
  if (configuration.DEMO_SHOP) {
    // Its promises stand for weeks: they are worth a plan that nobody waits for.
    const patient = { ...deps.budget, promptWork: deps.budget.thoroughWork, timeLimitMs: DEMO_PLAN_MS };
    const demo = await loadDemo({ ...deps, budget: patient });
    if ((await store.shops.get(demo.shopId)) !== null) demoShop = demo.shopId;
    if (demo.loaded) say(`invented demo shop loaded: ${demo.jobs} bookings`);
  }
  let address = '';
  const customers: CustomerService = {
    tokens: linkTokens(configuration.LINK_KEY),
    publicUrl: () => configuration.PUBLIC_URL ?? address,
    mailer: await mailerOf(configuration),
    wake: () => messenger.wake(),
  };
  const messenger = startMessenger({ ...deps, ...customers }, MESSENGER_MS);
  const first = await firstAdministrator(deps);
  const app = await buildApp({
    shop: deps,
    months,
    customers,
    whoAsks: createWhoAsks(store),
    authorship,
    firstAdministrator: first,
    ...(demoShop === null ? {} : { demoShop }),
    requestsPerMinute: configuration.REQUESTS_PER_MINUTE,
    trustedProxies: configuration.TRUSTED_PROXIES,
    version: VERSION,
    logger: log,
    webRoot: fileURLToPath(new URL('./web', import.meta.url)),
    hosts: [...configuration.SERVER_NAMES, ...namesOf(configuration.PUBLIC_URL)],
    bodyLimitBytes: configuration.BODY_LIMIT_BYTES,
  });
  address = await app.listen({ port: configuration.PORT, host: configuration.HOST });
  if (queue === null) {
    for (const { value: shop } of await store.shops.list()) deps.replanner.ask(shop.id, 'the server started');
  }
  const deskReady = keepDeskReady({ ...deps, desk }, DESK_QUIET_MS);
  // Where plans are queued, the planning workers keep shops up too.
  const stopUpkeep = queue === null ? keepUpEvery(deps, UPKEEP_MS) : async () => {};
  const stopping = new AbortController();
  const warmedUp = configuration.WARM_UP
    ? warmUp({
        drafter: planner,
        desk,
        terms: { seed: configuration.PLAN_SEED, timeLimitMs: configuration.PLAN_BUDGET_MS },
        now: deps.clock(),
        isAsked: () => threads.prompt.queueSize > 0,
        signal: stopping.signal,
        log,
      })
    : Promise.resolve();
  const stop = async (signal: string) => {
    stopping.abort();
    say(`${signal}: stopping`);
    setTimeout(() => process.exit(1), STOP_MS).unref();
    await Promise.all([stopUpkeep(), messenger.stop(), deskReady.stop()]);
    await app.close();
    await deps.replanner.close();
    await queue?.close();
    await warmedUp;
    await Promise.all([planner.close(), desk.close()]);
    await store.close();
    process.exit(0);
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => void stop(signal));
  say('ready');
  if (first.secret !== null) say(`nobody administers this server yet: open ${address}/sign-in.html#${first.secret}`);
  say(`screens      ${address}/`);
  say(`API to read  ${address}/docs/`);
  say(`API          ${address}/v1/shops`);
}

function budgetOf(configuration: Configuration): ShopDeps['budget'] {
  return { promptWork: 400_000, thoroughWork: 4_000_000, timeLimitMs: configuration.PLAN_BUDGET_MS };
}

/** Loaded only where plans are queued. */
async function queueOf({ DATABASE_URL }: Configuration, log: ShopDeps['log']): Promise<PlanningQueue> {
  const { openPlanningQueue } = await import('./store/planning-queue.ts');
  return openPlanningQueue(DATABASE_URL, log);
}

/** Loaded only where mail is sent. */
async function mailerOf({ SMTP_URL, MAIL_FROM }: Configuration): Promise<CustomerService['mailer']> {
  if (SMTP_URL === undefined || MAIL_FROM === undefined) return null;
  const { smtpMailer } = await import('./shop/messages/smtp-mailer.ts');
  return smtpMailer({ url: SMTP_URL, from: MAIL_FROM, clock: Date.now });
}

/** Whoever follows a link asks for this server by the name in it. */
function namesOf(publicUrl: string | undefined): string[] {
  return publicUrl === undefined ? [] : [new URL(publicUrl).hostname];
}

function sentenceFor(error: unknown): string {
  if (error instanceof ConfigurationError) return error.message;
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'EADDRINUSE') return `PORT is taken by another program (${message})`;
  if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND') return `HOST cannot be bound (${message})`;
  if (databaseTrouble(error) !== null) return `DATABASE_URL names a database that cannot be used (${message})`;
  return `cannot start: ${message ?? String(error)}`;
}

main().catch((error: unknown) => {
  process.stderr.write(`panelday: ${sentenceFor(error)}\n`);
  process.exit(1);
});
