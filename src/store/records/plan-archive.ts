import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { PlanSummary, Plans, Publication } from '../contract/plans.ts';
import { readDocument } from './document.ts';
import { readOperation, readPlannedJob, readStay } from './plan-tables.ts';
import { currentPlan, keptPlan, Summary } from './plan-versions.ts';
import { publishPlan } from './publish-plan.ts';
import type { Session } from './session.ts';

const DEFAULT_HISTORY = 20;

/** Plans: the current one in tables by place, person and job; of those before it, how to come back to them. */
export class PlanArchive implements Plans {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async currentVersion(shopId: ShopId): Promise<number> {
    const shop = await this.#session.reader.shop.findUnique({ where: { id: shopId }, select: { planVersion: true } });
    return shop?.planVersion ?? 0;
  }

  current(shopId: ShopId): Promise<Plan | null> {
    return currentPlan(this.#session, shopId);
  }

  get(shopId: ShopId, version: number): Promise<Plan | null> {
    return keptPlan(this.#session, shopId, version);
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

  publish(publication: Publication): Promise<Plan> {
    return publishPlan(this.#session, publication);
  }

  async prune(shopId: ShopId, keep: number): Promise<number> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const shop = await transaction.shop.findUnique({ where: { id: shopId } });
      const newestToForget = (shop?.planVersion ?? 0) - Math.max(1, keep);
      const { count } = await transaction.planVersion.deleteMany({
        where: { shopId, version: { lte: newestToForget } },
      });
      return count;
    });
  }
}
