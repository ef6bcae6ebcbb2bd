import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Trace, TracedPerson, TracedTable, Traces } from '../contract/traces.ts';
import type { Session } from './session.ts';
import { tableOf } from './table.ts';

interface Traced {
  readonly table: TracedTable;
  readonly key: readonly string[];
  readonly texts: readonly string[];
  /** The column that names the booking or other thing the row is of. */
  readonly subject?: string;
  /** Whether a booking's id in the text makes it a row to look at. */
  readonly namesBookings: boolean;
  /** Whether whoever read the row knows it by a version, which then has to grow. */
  readonly versioned?: true;
}

const TRACED: readonly Traced[] = [
  { table: 'auditEntry', key: ['id'], texts: ['before', 'after'], subject: 'subject', namesBookings: true },
  { table: 'outboxEvent', key: ['sequence'], texts: ['body'], subject: 'subject', namesBookings: true },
  { table: 'requestReply', key: ['principal', 'route', 'key'], texts: ['body', 'headers'], namesBookings: true },
  // Plans name bookings by id and say nothing of them but in their reasons.
  { table: 'planVersion', key: ['version'], texts: ['summary', 'document'], namesBookings: false },
  { table: 'floorEvent', key: ['jobId', 'sequence'], texts: ['fact'], subject: 'jobId', namesBookings: false },
  { table: 'deskException', key: ['id'], texts: ['document'], subject: 'jobId', namesBookings: true, versioned: true },
  { table: 'photo', key: ['id'], texts: ['document'], subject: 'jobId', namesBookings: false },
  { table: 'job', key: ['id'], texts: ['document'], namesBookings: false, versioned: true },
];

const SHORTEST_SOUGHT = 3;

/** Finds and rewrites what is written about a person. */
export class TraceFinder implements Traces {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async find(shopId: ShopId, { jobIds, words }: TracedPerson): Promise<Trace[]> {
    const sought = words.map(asInJson).filter((word) => word.length >= SHORTEST_SOUGHT);
    const found: Trace[] = [];
    // The trail of this very transaction may name the person too.
    await this.#session.writeGathered();
    for (const { table, key, texts, subject, namesBookings } of TRACED) {
      const parts = [...sought, ...(namesBookings ? jobIds : [])];
      const anyOf = [
        ...texts.flatMap((column) => parts.map((part) => ({ [column]: { contains: part } }))),
        ...(subject === undefined ? [] : [{ [subject]: { in: [...jobIds] } }]),
      ];
      if (anyOf.length === 0) continue;
      const columns = Object.fromEntries([...key, ...texts, ...(subject ? [subject] : [])].map((name) => [name, true]));
      const rows = await tableOf(this.#session.reader, table).findMany({
        where: { shopId, OR: anyOf },
        select: columns,
      });
      for (const row of rows) {
        const part = (names: readonly string[]) => Object.fromEntries(names.map((name) => [name, row[name]]));
        const about = subject === undefined ? null : String(row[subject]);
        found.push({ table, key: part(key) as Trace['key'], about, texts: part(texts) as Trace['texts'] });
      }
    }
    return found;
  }

  async rewrite(shopId: ShopId, traces: readonly Trace[]): Promise<void> {
    await this.#session.write(shopId, { what: 'anything' }, async (transaction) => {
      for (const { table, key, texts } of traces) {
        const versioned = TRACED.find((each) => each.table === table)?.versioned;
        const grown = versioned ? { version: { increment: 1 }, updatedAt: BigInt(this.#session.now()) } : {};
        await tableOf(transaction, table).updateMany({ where: { shopId, ...key }, data: { ...texts, ...grown } });
      }
      // What was remembered under the same numbers says what these rows said before.
      const { events, plans } = this.#session;
      const jobs = traces.flatMap(({ table, key }) => (table === 'floorEvent' ? [String(key.jobId)] : []));
      this.#session.gathered(transaction).afterwards.push(() => {
        for (const jobId of new Set(jobs)) events.forget(shopId, jobId);
        if (traces.some(({ table }) => table === 'planVersion')) plans.forget(shopId);
      });
    });
  }

  async clear(
    shopId: ShopId,
    jobIds: readonly JobId[],
  ): Promise<{ readonly messages: number; readonly links: number; readonly photos: number }> {
    return this.#session.write(shopId, { what: 'anything' }, async (transaction) => {
      const where = { shopId, jobId: { in: [...jobIds] } };
      const { count: messages } = await transaction.customerMessage.deleteMany({ where });
      const { count: links } = await transaction.customerLink.deleteMany({ where });
      const { count: photos } = await transaction.photo.deleteMany({ where });
      return { messages, links, photos };
    });
  }
}

/** The longest part of a word that stands in JSON text as it stands here, without what JSON or LIKE writes otherwise. */
function asInJson(word: string): string {
  const parts = word.split(/["\\%_\p{Cc}]/u);
  return parts.reduce((longest, part) => (part.length > longest.length ? part : longest), '');
}
