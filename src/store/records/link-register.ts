import type { JobId, ShopId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import type { CustomerLink, CustomerLinks } from '../contract/customer-links.ts';
import type { CustomerLinkModel } from '../generated/sqlite/models.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

/** Links to customers' pages, by job and by the hash of their token. */
export class LinkRegister implements CustomerLinks {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async get(shopId: ShopId, jobId: JobId): Promise<CustomerLink | null> {
    const row = await this.#session.reader.customerLink.findUnique({ where: { shopId_jobId: { shopId, jobId } } });
    return row === null ? null : read(row);
  }

  async issue(shopId: ShopId, link: Omit<CustomerLink, 'revokedAt'>): Promise<boolean> {
    const { jobId, generation, seed, tokenHash, issuedAt } = link;
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      await checkReferences(transaction, shopId, [{ field: 'jobId', table: 'job', id: jobId }]);
      if (generation === 1) {
        const inserted = await transaction.$executeRaw`
          INSERT INTO "CustomerLink" ("shopId", "jobId", "generation", "seed", "tokenHash", "issuedAt")
          VALUES (${shopId}, ${jobId}, 1, ${seed}, ${tokenHash}, ${BigInt(issuedAt)})
          ON CONFLICT DO NOTHING`;
        return inserted === 1;
      }
      const { count } = await transaction.customerLink.updateMany({
        where: { shopId, jobId, generation: generation - 1 },
        data: { generation, seed, tokenHash, issuedAt: BigInt(issuedAt), revokedAt: null },
      });
      return count === 1;
    });
  }

  async revoke(shopId: ShopId, jobId: JobId, generation: number, at: Instant): Promise<boolean> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.customerLink.updateMany({
        where: { shopId, jobId, generation, revokedAt: null },
        data: { revokedAt: BigInt(at) },
      });
      return count === 1;
    });
  }

  async find(tokenHash: string): Promise<{ shopId: ShopId; jobId: JobId } | null> {
    const row = await this.#session.reader.customerLink.findUnique({ where: { tokenHash } });
    if (row === null || row.revokedAt !== null) return null;
    return { shopId: row.shopId as ShopId, jobId: row.jobId as JobId };
  }
}

function read(row: CustomerLinkModel): CustomerLink {
  return {
    jobId: row.jobId as JobId,
    generation: row.generation,
    seed: row.seed,
    tokenHash: row.tokenHash,
    issuedAt: Instant.parse(Number(row.issuedAt)),
    revokedAt: row.revokedAt === null ? null : Instant.parse(Number(row.revokedAt)),
  };
}
