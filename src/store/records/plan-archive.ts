import { z } from 'zod';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import { Plan, type PlannedJob, type PlannedOperation, type PlannedStay } from '../../trade/model/plan.ts';
import { Instant } from '../../trade/model/time.ts';
import { insertRows } from '../connection/insert-rows.ts';
import { InvalidDocument, NotFound, StalePlan } from '../contract/errors.ts';
import type { Stretch } from '../contract/floor.ts';
import type { PlanSummary, Plans, Publication, TimelineFilter } from '../contract/plans.ts';
import { checkDocument, readDocument } from './document.ts';
import { refuseOverlaps } from './double-booking.ts';
import { checkStretches, purgeLapsed, releaseHolds } from './hold-book.ts';
import { planReferences, readOperation, readPlannedJob, readStay, replacePlanTables } from './plan-tables.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

const DEFAULT_HISTORY = 20;

const Summary = z.object({
  version: z.int(),
  madeAt: Instant,
  reason: z.string(),
  objective: Plan.shape.objective,
  interrupted: z.boolean(),
});

const OCCUPANCY_COLUMNS = {
  shopId: 'text',
  placeId: 'text',
  startsAt: 'bigint',
  endsAt: 'bigint',
  owner: 'text',
  jobId: 'text',
} as const;

/** Plans: every version whole, the current one also in tables by place, person and job. */
export class PlanArchive implements Plans {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async currentVersion(shopId: ShopId): Promise<number> {
    const shop = await this.#session.reader.shop.findUnique({ where: { id: shopId }, select: { planVersion: true } });
    return shop?.planVersion ?? 0;
  }

  async current(shopId: ShopId): Promise<Plan | null> {
    return this.get(shopId, await this.currentVersion(shopId));
  }

  async get(shopId: ShopId, version: number): Promise<Plan | null> {
    const row = await this.#session.reader.planVersion.findUnique({ where: { shopId_version: { shopId, version } } });
    return row === null ? null : readDocument(Plan, row.document, `plan ${shopId}/${version}`);
  }

  async history(shopId: ShopId, limit = DEFAULT_HISTORY): Promise<PlanSummary[]> {
    const rows = await this.#session.reader.planVersion.findMany({
      where: { shopId },
      orderBy: { version: 'desc' },
      take: limit,
      select: { version: true, summary: true },
    });
    return rows.map((row) => readDocument(Summary, row.summary, `plan summary ${shopId}/${row.version}`));
  }

  async operations(shopId: ShopId, filter: TimelineFilter): Promise<PlannedOperation[]> {
    const { placeId, technicianId, jobId } = filter;
    const rows = await this.#session.reader.plannedOperation.findMany({
      where: {
        shopId,
        ...touching(filter),
        ...(placeId === undefined ? {} : { placeId }),
        ...(jobId === undefined ? {} : { jobId }),
        ...(technicianId === undefined ? {} : { persons: { some: { technicianId, ...touching(filter) } } }),
      },
      orderBy: [{ startsAt: 'asc' }, { jobId: 'asc' }, { operation: 'asc' }],
    });
    return rows.map(readOperation);
  }

  async stays(shopId: ShopId, filter: Omit<TimelineFilter, 'technicianId'>): Promise<PlannedStay[]> {
    const { placeId, jobId } = filter;
    const rows = await this.#session.reader.plannedStay.findMany({
      where: {
        shopId,
        ...touching(filter),
        ...(placeId === undefined ? {} : { placeId }),
        ...(jobId === undefined ? {} : { jobId }),
      },
      orderBy: [{ startsAt: 'asc' }, { jobId: 'asc' }, { position: 'asc' }],
    });
    return rows.map(readStay);
  }

  async job(
    shopId: ShopId,
    jobId: JobId,
  ): Promise<{ job: PlannedJob; operations: PlannedOperation[]; stays: PlannedStay[] } | null> {
    for (;;) {
      const before = await this.currentVersion(shopId);
      const { reader } = this.#session;
      const job = await reader.plannedJob.findUnique({ where: { shopId_jobId: { shopId, jobId } } });
      const where = { shopId, jobId };
      const orderBy = { startsAt: 'asc' } as const;
      const operations = await reader.plannedOperation.findMany({ where, orderBy });
      const stays = await reader.plannedStay.findMany({ where, orderBy: { position: 'asc' } });
      // A publication in between would mix two plans.
      if ((await this.currentVersion(shopId)) !== before) continue;
      if (job === null) return null;
      return { job: readPlannedJob(job), operations: operations.map(readOperation), stays: stays.map(readStay) };
    }
  }

  async publish({ shopId, expectedVersion, plan, occupancy, now, releaseHolds: released }: Publication): Promise<void> {
    const checked = checkDocument(Plan, plan, `plan ${shopId}/${plan.version}`);
    if (checked.version !== expectedVersion + 1) {
      throw new InvalidDocument(`plan ${shopId}`, [{ field: 'version', message: `must be ${expectedVersion + 1}` }]);
    }
    checkStretches('occupancy', occupancy);
    await this.#session.write(shopId, async (transaction) => {
      const swapped = await transaction.shop.updateMany({
        where: { id: shopId, planVersion: expectedVersion },
        data: { planVersion: checked.version },
      });
      if (swapped.count === 0) {
        const shop = await transaction.shop.findUnique({ where: { id: shopId } });
        if (shop === null) throw new NotFound('shop', shopId);
        throw new StalePlan(expectedVersion, shop.planVersion);
      }
      await checkReferences(transaction, shopId, [
        ...planReferences(checked),
        ...occupancy.flatMap(({ placeId, jobId }, index) => [
          { field: `occupancy.${index}.placeId`, table: 'place' as const, id: placeId },
          { field: `occupancy.${index}.jobId`, table: 'job' as const, id: jobId },
        ]),
      ]);

      await purgeLapsed(transaction, shopId, now);
      if (released !== undefined) await releaseHolds(transaction, shopId, released);
      await transaction.occupancy.deleteMany({ where: { shopId, expiresAt: null } });
      const holds = await transaction.occupancy.findMany({ where: { shopId } });
      refuseOverlaps([
        ...occupancy,
        ...holds.map((row) => ({
          placeId: row.placeId,
          from: Instant.parse(Number(row.startsAt)),
          to: Instant.parse(Number(row.endsAt)),
        })),
      ]);
      await insertRows(
        transaction,
        this.#session.provider,
        'Occupancy',
        OCCUPANCY_COLUMNS,
        occupancy.map(({ placeId, from, to, jobId }) => ({
          shopId,
          placeId,
          startsAt: from,
          endsAt: to,
          owner: jobId,
          jobId,
        })),
      );

      const { version, madeAt, reason, objective, interrupted } = checked;
      await transaction.planVersion.create({
        data: {
          shopId,
          version,
          madeAt: BigInt(madeAt),
          summary: JSON.stringify({ version, madeAt, reason, objective, interrupted }),
          document: JSON.stringify(checked),
        },
      });
      await replacePlanTables(transaction, this.#session.provider, shopId, checked);
    });
  }

  async prune(shopId: ShopId, keep: number): Promise<number> {
    return this.#session.write(shopId, async (transaction) => {
      const shop = await transaction.shop.findUnique({ where: { id: shopId } });
      const newestToForget = (shop?.planVersion ?? 0) - Math.max(1, keep);
      const { count } = await transaction.planVersion.deleteMany({
        where: { shopId, version: { lte: newestToForget } },
      });
      return count;
    });
  }
}

/** Rows that share a moment with the half-open stretch; an empty one counts where it stands. */
function touching({ from, to }: Stretch) {
  return { startsAt: { lt: BigInt(to) }, endsAt: { gt: BigInt(from) } };
}
