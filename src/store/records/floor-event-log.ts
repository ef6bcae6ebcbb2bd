import type { JobId, ShopId } from '../../trade/model/ids.ts';
import { FloorEvent } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { gatherColumns } from '../connection/many-rows.ts';
import { UnknownReference } from '../contract/errors.ts';
import type { FloorEvents, Stretch } from '../contract/floor.ts';
import type { Written } from '../contract/written.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { FloorEventModel } from '../generated/sqlite/models.ts';
import { noteChange } from './audit-trail.ts';
import { checkDocument, parseJson } from './document.ts';
import { EventMemory, withOneMore } from './event-memory.ts';
import { frozen } from './frozen.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

/** Facts written with one statement. */
const AT_ONCE = 500;

/** The floor's facts, appended and read. */
export class FloorEventLog implements FloorEvents {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async append(shopId: ShopId, event: ToRecord): Promise<{ event: FloorEvent; repeated: boolean }> {
    const checked = checkedToRecord(shopId, event);
    return this.#session.write(shopId, writtenBy(checked), async (transaction) => {
      const { jobId, clientId } = checked;
      const [there] = await transaction.$queryRaw<
        { last: number | bigint; known: string | null; job: string | null }[]
      >`
        SELECT (SELECT coalesce(max("sequence"), 0) FROM "FloorEvent" WHERE "shopId" = ${shopId} AND "jobId" = ${jobId}) AS "last",
          (SELECT "clientId" FROM "FloorEvent" WHERE "shopId" = ${shopId} AND "clientId" = ${clientId}) AS "known",
          (SELECT "id" FROM "Job" WHERE "shopId" = ${shopId} AND "id" = ${jobId}) AS "job"`;
      const { last, known, job } = there!;
      if (known !== null) {
        const first = await transaction.floorEvent.findUnique({ where: { shopId_clientId: { shopId, clientId } } });
        return { event: read(first!), repeated: true };
      }
      if (job === null) throw new UnknownReference('jobId', 'job', jobId);
      const sequence = Number(last) + 1;
      await transaction.floorEvent.create({ data: rowOf(shopId, checked, sequence) });
      noteChange(this.#session, transaction, changeOf(shopId, checked));
      return { event: { ...checked, sequence }, repeated: false };
    });
  }

  async appendAll(shopId: ShopId, events: readonly ToRecord[]): Promise<number> {
    const checked = events.map((event) => checkedToRecord(shopId, event));
    return this.#session.write(shopId, { what: 'anything' }, async (transaction) => {
      await checkReferences(
        transaction,
        shopId,
        checked.map(({ jobId }) => ({ field: 'jobId', table: 'job', id: jobId })),
      );
      let recorded = 0;
      for (let from = 0; from < checked.length; from += AT_ONCE) {
        recorded += await this.#appendSome(transaction, shopId, checked.slice(from, from + AT_ONCE));
      }
      return recorded;
    });
  }

  async #appendSome(
    transaction: Prisma.TransactionClient,
    shopId: ShopId,
    events: readonly ToRecord[],
  ): Promise<number> {
    const clientIds = events.map(({ clientId }) => clientId);
    const there = await transaction.floorEvent.findMany({
      where: { shopId, clientId: { in: clientIds } },
      select: { clientId: true },
    });
    const known = new Set(there.map(({ clientId }) => clientId));
    const fresh = events.filter(({ clientId }) => !known.has(clientId) && known.add(clientId));
    if (fresh.length === 0) return 0;
    const last = await transaction.floorEvent.groupBy({
      by: ['jobId'],
      where: { shopId, jobId: { in: [...new Set(fresh.map(({ jobId }) => jobId))] } },
      _max: { sequence: true },
    });
    const sequenceOf = new Map(last.map(({ jobId, _max }) => [jobId, _max.sequence ?? 0]));
    const rows = fresh.map((event) => {
      const sequence = (sequenceOf.get(event.jobId) ?? 0) + 1;
      sequenceOf.set(event.jobId, sequence);
      return rowOf(shopId, event, sequence);
    });
    await transaction.floorEvent.createMany({ data: rows });
    for (const event of fresh) noteChange(this.#session, transaction, changeOf(shopId, event));
    return fresh.length;
  }

  async listByJob(shopId: ShopId, jobId: JobId, afterSequence = 0): Promise<FloorEvent[]> {
    const rows = await this.#session.reader.floorEvent.findMany({
      where: { shopId, jobId, sequence: { gt: afterSequence } },
      orderBy: { sequence: 'asc' },
    });
    return rows.map(read);
  }

  async listByJobs(shopId: ShopId, jobIds: readonly JobId[]): Promise<FloorEvent[]> {
    const { reader, provider, committed } = this.#session;
    // What a transaction sees may never be committed.
    const memory = committed ? this.#session.events : new EventMemory();
    const lasts = (await gatherColumns(
      reader,
      provider,
      `(SELECT j."jobId", (SELECT max("sequence") FROM "FloorEvent" WHERE "shopId" = $1 AND "jobId" = j."jobId") AS "last" FROM ${jobIdsIn[provider]} AS j) AS "lasts"`,
      ['"jobId"', '"last"'],
      '"last" IS NOT NULL',
      [shopId, JSON.stringify([...new Set(jobIds)])],
    )) as [JobId, number][];
    const known = new Map(lasts.map(([jobId]) => [jobId, memory.of(shopId, jobId)]));
    const grown = lasts.filter(([jobId, last]) => known.get(jobId)!.last !== last);
    for (const event of await this.#after(
      shopId,
      grown.map(([jobId]) => ({ jobId, last: known.get(jobId)!.last })),
    ))
      known.set(event.jobId, withOneMore(known.get(event.jobId)!, event));
    for (const [jobId] of grown) memory.keep(shopId, jobId, known.get(jobId)!);
    return lasts
      .map(([jobId]) => jobId)
      .sort()
      .flatMap((jobId) => known.get(jobId)!.events);
  }

  /** Events after the last one known of each job, each job's in order. */
  async #after(
    shopId: ShopId,
    jobs: readonly { readonly jobId: JobId; readonly last: number }[],
  ): Promise<FloorEvent[]> {
    if (jobs.length === 0) return [];
    const { reader, provider } = this.#session;
    const rows = (await gatherColumns(
      reader,
      provider,
      // Crossed in this order by SQLite, which would otherwise go through the list for each event there is.
      `${lastKnownIn[provider]} AS k CROSS JOIN "FloorEvent" AS e`,
      ['e."jobId"', 'e."sequence"', 'e."clientId"', 'e."occurredAt"', 'e."recordedAt"', 'e."fact"'],
      'e."shopId" = $1 AND e."jobId" = k."jobId" AND e."sequence" > k."last"',
      [shopId, JSON.stringify(jobs)],
    )) as [string, number, string, number, number, string][];
    return rows
      .map(([jobId, sequence, clientId, occurredAt, recordedAt, fact]) =>
        // Others hold them too.
        frozen(read({ shopId, jobId, sequence, clientId, occurredAt, recordedAt, fact })),
      )
      .sort((a, b) => a.sequence - b.sequence);
  }

  async listRecordedSince(shopId: ShopId, recordedFrom: Instant, limit?: number): Promise<FloorEvent[]> {
    const rows = await this.#session.reader.floorEvent.findMany({
      where: { shopId, recordedAt: { gte: BigInt(recordedFrom) } },
      orderBy: [{ recordedAt: 'asc' }, { jobId: 'asc' }, { sequence: 'asc' }],
      ...(limit === undefined ? {} : { take: limit }),
    });
    return rows.map(read);
  }

  async listOccurred(shopId: ShopId, stretch: Stretch): Promise<FloorEvent[]> {
    const rows = await this.#session.reader.floorEvent.findMany({
      where: { shopId, occurredAt: { gte: BigInt(stretch.from), lt: BigInt(stretch.to) } },
      orderBy: [{ occurredAt: 'asc' }, { jobId: 'asc' }, { sequence: 'asc' }],
    });
    return rows.map(read);
  }
}

/** The ids of a JSON array, the second parameter, as rows. */
const jobIdsIn = {
  sqlite: '(SELECT value AS "jobId" FROM json_each($2))',
  postgresql: '(SELECT value AS "jobId" FROM json_array_elements_text($2::json))',
} as const;

/** What is known of some jobs, a JSON array and the second parameter, as rows. */
const lastKnownIn = {
  sqlite: `(SELECT value ->> '$.jobId' AS "jobId", value ->> '$.last' AS "last" FROM json_each($2))`,
  postgresql: '(SELECT * FROM json_to_recordset($2::json) AS known("jobId" text, "last" integer))',
} as const;

const ToRecord = FloorEvent.omit({ sequence: true });
type ToRecord = Omit<FloorEvent, 'sequence'>;

function checkedToRecord(shopId: ShopId, event: ToRecord): ToRecord {
  return checkDocument(ToRecord, event, `floor event ${shopId}/${event.clientId}`);
}

function rowOf(shopId: ShopId, { jobId, clientId, occurredAt, recordedAt, fact }: ToRecord, sequence: number) {
  return {
    shopId,
    jobId,
    sequence,
    clientId,
    occurredAt: BigInt(occurredAt),
    recordedAt: BigInt(recordedAt),
    fact: JSON.stringify(fact),
  };
}

/** Nothing that is kept is made from notes. */
function writtenBy({ jobId, fact }: ToRecord): Written {
  return fact.kind === 'noted' ? { what: 'aside' } : { what: 'facts', jobId };
}

function changeOf(shopId: ShopId, event: ToRecord) {
  return { shopId, kind: 'floorEvent', subject: event.jobId, before: null, after: JSON.stringify(event) };
}

/** A row as either of two ways of reading gives it. */
type Row = Omit<FloorEventModel, 'occurredAt' | 'recordedAt'> & Record<'occurredAt' | 'recordedAt', bigint | number>;

function read(row: Row): FloorEvent {
  const name = `floor event ${row.shopId}/${row.jobId}/${row.sequence}`;
  return checkDocument(
    FloorEvent,
    {
      jobId: row.jobId,
      clientId: row.clientId,
      occurredAt: Number(row.occurredAt),
      recordedAt: Number(row.recordedAt),
      sequence: row.sequence,
      fact: parseJson(row.fact, name),
    },
    name,
  );
}
