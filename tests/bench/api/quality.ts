import { measure } from '../../../src/engine/check/objective.ts';
import { compareTiers } from '../../../src/engine/improve/tiers.ts';
import { solve } from '../../../src/engine/solve.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { benchBook } from './bench-book.ts';
import { succeed } from './client.ts';
import { putBook } from './put-book.ts';
import { startServer } from './server-process.ts';
import { settledPlan } from './settled-plan.ts';

export interface PlanQuality {
  readonly name: string;
  readonly tiers: readonly string[];
  readonly values: readonly number[];
  readonly seconds: number;
}

interface Replanned {
  readonly plan: { readonly madeAt: string; readonly objective: readonly { tier: string; value: number }[] };
}

const BEST_OF = 5;
/** Beside its search a better plan takes a thread that may be cold, and a look at every promise. */
const BESIDE_MS = 4_000;

/** The server's plan at once and after its search, and when asked for, the best that five long searches of the same problem find. */
export async function measureQuality(
  jobs: number,
  seed: number,
  budgetMs: number,
  bestSeconds: number,
): Promise<PlanQuality[]> {
  const book = benchBook(jobs, seed);
  const server = await startServer(budgetMs);
  let reply: { readonly body: Replanned; readonly ms: number };
  let settled: Awaited<ReturnType<typeof settledPlan>>;
  try {
    await putBook(server.databaseUrl, book);
    const shop = `${server.address}/v1/shops/${book.shop.id}`;
    reply = await succeed<Replanned>(`${shop}/plan/replans`, { reason: 'bench' });
    settled = await settledPlan(shop, budgetMs + BESIDE_MS);
  } finally {
    await server.stop();
  }
  const { objective, madeAt } = reply.body.plan;
  const tiers = objective.map(({ tier }) => tier);
  const valuesOf = (of: typeof objective) => of.map(({ value }) => value);
  const plans = [
    { name: 'the server, at once', tiers, values: valuesOf(objective), seconds: reply.ms / 1000 },
    { name: 'the server, then', tiers, values: valuesOf(settled.objective), seconds: budgetMs / 1000 },
  ];
  if (bestSeconds <= 0) return plans;
  const { problem } = formulate({ ...book, now: Date.parse(madeAt) as Instant });
  const found: number[][] = [];
  for (let k = 1; k <= BEST_OF; k++) {
    const { schedule } = solve(problem, {
      seed: k,
      workLimit: Number.POSITIVE_INFINITY,
      timeLimitMs: bestSeconds * 1000,
      clock: () => performance.now(),
    });
    if (schedule !== null) found.push([...measure(problem, schedule)]);
  }
  found.sort(compareTiers);
  for (const [rank, values] of found.entries()) {
    plans.push({ name: `long search, ${rank + 1} of ${BEST_OF}`, tiers, values, seconds: bestSeconds });
  }
  return plans;
}
