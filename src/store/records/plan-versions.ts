import { setImmediate as letOthersRun } from 'node:timers/promises';
import { z } from 'zod';
import type { ShopId } from '../../trade/model/ids.ts';
import { Plan, PlannedJob, PlannedOperation } from '../../trade/model/plan.ts';
import { PlanChange } from '../../trade/model/plan-change.ts';
import { afterChange, inOrder, NO_WORK, type PlanWork } from '../../trade/model/plan-way.ts';
import { Instant } from '../../trade/model/time.ts';
import { gatherDocuments } from '../connection/many-rows.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { PlanVersionModel } from '../generated/sqlite/models.ts';
import { checkDocument, parseJson, readDocument } from './document.ts';
import { frozen } from './frozen.ts';
import { readStay } from './plan-tables.ts';
import type { Session } from './session.ts';

/** What a plan says of itself, for lists. */
export const Summary = z.object({
  version: z.int(),
  madeAt: Instant,
  reason: z.string(),
  objective: Plan.shape.objective,
  interrupted: z.boolean(),
});

/** What is kept of a version beside its summary; how to come back to it from the next one, null while there is none. */
const Kept = z.object({ seed: z.int(), back: PlanChange.nullable() });
type Kept = z.infer<typeof Kept>;

/** Parts of a plan that are looked through before others get their turn. */
const AT_ONCE = 200;

/** The shop's current plan, from memory when this process knows it; null before the first. */
export async function currentPlan(session: Session, shopId: ShopId): Promise<Plan | null> {
  for (;;) {
    const newest = await newestVersion(session, shopId);
    if (newest === null) return null;
    const known = session.plans.find(shopId, newest.version, newest.madeAt);
    if (known !== undefined) return known;
    const row = await session.reader.planVersion.findUnique({
      where: { shopId_version: { shopId, version: newest.version } },
    });
    const work = row === null ? NO_WORK : await workInTables(session, shopId, `plan ${shopId}/${newest.version}`);
    // A publication in between would mix two plans.
    const after = await newestVersion(session, shopId);
    if (row === null || after?.version !== newest.version || after.madeAt !== newest.madeAt) continue;
    const plan = frozen(planOf(row, inOrder(work)));
    if (session.committed) session.plans.keep(shopId, plan);
    return plan;
  }
}

/** A kept version, whole: the current one, with everything undone that came after it. */
export async function keptPlan(session: Session, shopId: ShopId, version: number): Promise<Plan | null> {
  for (;;) {
    const current = await currentPlan(session, shopId);
    if (current === null || version > current.version) return null;
    if (version === current.version) return current;
    const rows = await session.reader.planVersion.findMany({
      where: { shopId, version: { gte: version } },
      orderBy: { version: 'desc' },
    });
    if (rows[0]?.version !== current.version) continue;
    if (rows.at(-1)!.version !== version) return null;
    let work: PlanWork = current;
    for (const row of rows.slice(1)) {
      const kept = keptOf(row);
      work = 'operations' in kept ? kept : afterChange(work, kept.back!);
    }
    return planOf(rows.at(-1)!, work);
  }
}

/** Writes the row of a new version, and into the one before it how to come back. */
export async function keepVersion(
  transaction: Prisma.TransactionClient,
  shopId: ShopId,
  before: Plan | null,
  plan: Plan,
  back: PlanChange,
): Promise<void> {
  const { version, madeAt, reason, objective, interrupted, seed } = plan;
  await transaction.planVersion.create({
    data: {
      shopId,
      version,
      madeAt: BigInt(madeAt),
      summary: JSON.stringify({ version, madeAt, reason, objective, interrupted }),
      document: written({ seed, back: null }),
    },
  });
  if (before === null) return;
  // A version of the time when each was kept whole is left as it is.
  await transaction.planVersion.updateMany({
    where: { shopId, version: before.version, document: written({ seed: before.seed, back: null }) },
    data: { document: written({ seed: before.seed, back }) },
  });
}

async function newestVersion(session: Session, shopId: ShopId): Promise<{ version: number; madeAt: number } | null> {
  const [row] = await session.reader.$queryRaw<{ version: number | bigint; madeAt: number | bigint }[]>`
    SELECT "PlanVersion"."version", "PlanVersion"."madeAt" FROM "Shop"
    JOIN "PlanVersion" ON "PlanVersion"."shopId" = "Shop"."id" AND "PlanVersion"."version" = "Shop"."planVersion"
    WHERE "Shop"."id" = ${shopId}`;
  return row === undefined ? null : { version: Number(row.version), madeAt: Number(row.madeAt) };
}

async function workInTables(session: Session, shopId: ShopId, name: string): Promise<PlanWork> {
  const { reader, provider } = session;
  const operations = await gatherDocuments(reader, provider, 'PlannedOperation', shopId);
  const jobs = await gatherDocuments(reader, provider, 'PlannedJob', shopId);
  const stays = await reader.plannedStay.findMany({ where: { shopId }, orderBy: { position: 'asc' } });
  return {
    operations: await checkedInTurns(PlannedOperation, parseJson(operations, `${name} operations`), name),
    jobs: await checkedInTurns(PlannedJob, parseJson(jobs, `${name} jobs`), name),
    stays: stays.map(readStay),
  };
}

/** Reads a long list through its model without keeping others waiting. @throws InvalidDocument */
async function checkedInTurns<T>(model: z.ZodType<T>, list: unknown, name: string): Promise<T[]> {
  const all = checkDocument(z.array(z.unknown()), list, name);
  const checked: T[] = [];
  for (let from = 0; from < all.length; from += AT_ONCE) {
    if (from > 0) await letOthersRun();
    checked.push(...checkDocument(z.array(model), all.slice(from, from + AT_ONCE), name));
  }
  return checked;
}

function planOf(row: PlanVersionModel, { operations, stays, jobs }: PlanWork): Plan {
  const { version, madeAt, reason, objective, interrupted } = readDocument(Summary, row.summary, nameOf(row));
  return { version, madeAt, reason, objective, seed: keptOf(row).seed, interrupted, operations, stays, jobs };
}

/** Versions made before changes were kept hold the plan whole. */
function keptOf(row: PlanVersionModel): Kept | Plan {
  const value = parseJson(row.document, nameOf(row));
  const isWhole = typeof value === 'object' && value !== null && 'operations' in value;
  return isWhole ? checkDocument(Plan, value, nameOf(row)) : checkDocument(Kept, value, nameOf(row));
}

const nameOf = (row: { readonly shopId: string; readonly version: number }) => `plan ${row.shopId}/${row.version}`;

function written(kept: Kept): string {
  return JSON.stringify(kept);
}
