import { randomBytes } from 'node:crypto';
import type { ShopId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import type { Audit, AuditEntry, AuditFilter } from '../contract/audit.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { AuditEntryModel } from '../generated/sqlite/models.ts';
import type { Session } from './session.ts';

/** A change as its writer knows it; who and when are the session's. */
export interface Change {
  readonly shopId: string;
  readonly kind: string;
  readonly subject: string;
  readonly before: string | null;
  readonly after: string | null;
}

/** Notes a change in the transaction that makes it, at whose end it is written: neither is there without the other. */
export function noteChange(session: Session, transaction: Prisma.TransactionClient, change: Change): void {
  const at = session.now();
  session.gathered(transaction).note({ ...change, ...session.author(), id: idAt(at), at: BigInt(at) });
}

let noted = 0;
const MOST_OF_A_MOMENT = 1_000_000;

/**
 * Identifiers rise with time and, within a moment, with the order in which this process wrote; two processes' changes of
 * one millisecond are in no order.
 */
function idAt(at: number): string {
  noted = (noted + 1) % MOST_OF_A_MOMENT;
  return `${String(at).padStart(15, '0')}-${String(noted).padStart(6, '0')}-${randomBytes(4).toString('hex')}`;
}

/** The trail of changes. */
export class AuditTrail implements Audit {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async list(shopId: ShopId, { kind, subject, beforeId, limit }: AuditFilter): Promise<AuditEntry[]> {
    const rows = await this.#session.reader.auditEntry.findMany({
      where: {
        shopId,
        ...(kind === undefined ? {} : { kind }),
        ...(subject === undefined ? {} : { subject }),
        ...(beforeId === undefined ? {} : { id: { lt: beforeId } }),
      },
      orderBy: { id: 'desc' },
      take: limit,
    });
    return rows.map(read);
  }

  async note(shopId: ShopId, entry: { kind: string; subject: string; after: unknown }): Promise<void> {
    const { kind, subject } = entry;
    const change = { shopId, kind, subject, before: null, after: JSON.stringify(entry.after) };
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) =>
      noteChange(this.#session, transaction, change),
    );
  }

  async purge(shopId: ShopId, before: Instant): Promise<number> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.auditEntry.deleteMany({ where: { shopId, at: { lt: BigInt(before) } } });
      return count;
    });
  }
}

function read({ shopId: _, at, ...row }: AuditEntryModel): AuditEntry {
  return { ...row, at: Instant.parse(Number(at)) };
}
