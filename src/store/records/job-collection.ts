import { z } from 'zod';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import { toldToCome } from '../../trade/model/told-to-come.ts';
import type { Expected, Versioned } from '../contract/collection.ts';
import { InvalidCursor } from '../contract/errors.ts';
import type { JobFilter, Jobs, Page } from '../contract/jobs.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import { DocumentCollection } from './document-collection.ts';
import { foldForSearch } from './job-search.ts';
import { jobKind } from './kinds.ts';
import type { Session } from './session.ts';

const OPEN = `"state" IN ('held', 'booked', 'inShop')`;
const DEFAULT_LIMIT = 50;
const LARGEST_LIMIT = 500;

/** Where the last page ended: its last row's place in the order. */
const Cursor = z.tuple([z.int(), z.string()]);

/** Jobs: documents with a version inside, and lists that filter. */
export class JobCollection implements Jobs {
  readonly #session: Session;
  readonly #documents: DocumentCollection<JobId, Job>;

  constructor(session: Session) {
    this.#session = session;
    this.#documents = new DocumentCollection(session, jobKind);
  }

  async list(shopId: ShopId, filter: JobFilter = {}): Promise<Page<Versioned<Job>>> {
    const limit = Math.min(LARGEST_LIMIT, Math.max(1, Math.trunc(filter.limit ?? DEFAULT_LIMIT)));
    const rows = await this.#session.reader.job.findMany({
      where: { shopId, AND: conditions(filter) },
      orderBy: [{ arrivesAt: 'asc' }, { id: 'asc' }],
      take: limit + 1,
      select: { id: true, version: true, updatedAt: true, arrivesAt: true },
    });
    const shown = rows.slice(0, limit);
    const last = shown.at(-1);
    return {
      items: await this.#documents.resolve(
        shopId,
        shown.map(({ id, version, updatedAt }) => ({ id, version, updatedAt: Number(updatedAt) })),
      ),
      nextCursor: rows.length > limit && last ? writeCursor(Number(last.arrivesAt), last.id) : null,
    };
  }

  async listOpen(shopId: ShopId): Promise<Versioned<Job>[]> {
    const open = await this.#documents.listWhere(shopId, OPEN);
    return open.sort((a, b) => toldToCome(a.value) - toldToCome(b.value) || (a.value.id < b.value.id ? -1 : 1));
  }

  get(shopId: ShopId, id: JobId): Promise<Versioned<Job> | null> {
    return this.#documents.get(shopId, id);
  }

  known(shopId: ShopId, ids: readonly JobId[]): Promise<ReadonlySet<JobId>> {
    return this.#documents.known(shopId, ids);
  }

  put(shopId: ShopId, job: Job, expected: Expected): Promise<Versioned<Job>> {
    return this.#documents.put(shopId, job, expected);
  }

  async delete(shopId: ShopId, id: JobId, expected: number | 'any'): Promise<void> {
    await this.#documents.delete(shopId, id, expected);
  }
}

function conditions(filter: JobFilter): Prisma.JobWhereInput[] {
  const all: Prisma.JobWhereInput[] = [];
  if (filter.states) all.push({ state: { in: [...filter.states] } });
  if (filter.visiting) {
    const { from, to, now } = filter.visiting;
    const notGone: Prisma.JobWhereInput = { leavesAt: { gte: BigInt(from) } };
    all.push({ arrivesAt: { lt: BigInt(to) }, OR: from <= now ? [notGone, { state: 'inShop' }] : [notGone] });
  }
  if (filter.promised) {
    all.push({ promisedAt: { gte: BigInt(filter.promised.from), lt: BigInt(filter.promised.to) } });
  }
  const wanted = foldForSearch(filter.search ?? '');
  if (wanted !== '') all.push({ searchText: { contains: wanted } });
  if (filter.cursor !== undefined) {
    const [arrivesAt, id] = readCursor(filter.cursor);
    all.push({ OR: [{ arrivesAt: { gt: BigInt(arrivesAt) } }, { arrivesAt: BigInt(arrivesAt), id: { gt: id } }] });
  }
  return all;
}

function writeCursor(arrivesAt: number, id: string): string {
  return Buffer.from(JSON.stringify([arrivesAt, id])).toString('base64url');
}

function readCursor(cursor: string): z.infer<typeof Cursor> {
  try {
    return Cursor.parse(JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8')));
  } catch {
    throw new InvalidCursor();
  }
}
