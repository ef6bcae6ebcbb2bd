import type { Connection } from '../connection/connection.ts';
import { UnknownReference } from '../contract/errors.ts';
import type { OutboxEvent } from '../contract/outbox.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { Gathered } from './gathered.ts';

/**
 * Writes the trail and the news that a transaction has gathered, few statements however many they are; what it gathers after that is
 * written apart. @throws UnknownReference when there is news of a shop that is not there
 */
export async function writeGathered(
  connection: Connection,
  transaction: Prisma.TransactionClient,
  gathered: Gathered,
): Promise<void> {
  const { trail, news } = gathered.take();
  if (trail.length > 0) await transaction.auditEntry.createMany({ data: trail });
  for (const [shopId, events] of news) {
    await append(transaction, shopId, events);
    await connection.announce(transaction, shopId);
  }
}

/** Numbered under the shop's lock, so that none is committed after a later one was read. */
async function append(
  transaction: Prisma.TransactionClient,
  shopId: string,
  events: readonly OutboxEvent[],
): Promise<void> {
  const [row] = await transaction.$queryRaw<{ outboxSequence: number | bigint }[]>`
    UPDATE "Shop" SET "outboxSequence" = "outboxSequence" + ${events.length} WHERE "id" = ${shopId}
    RETURNING "outboxSequence"`;
  if (row === undefined) throw new UnknownReference('shopId', 'shop', shopId);
  const first = Number(row.outboxSequence) - events.length + 1;
  await transaction.outboxEvent.createMany({
    data: events.map(({ kind, subject, at, body }, k) => ({
      ...{ shopId, sequence: first + k, kind, subject },
      ...{ at: BigInt(at), body: JSON.stringify(body ?? null) },
    })),
  });
}
