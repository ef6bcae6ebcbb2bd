import { randomInt } from 'node:crypto';
import type { Prisma } from '../generated/sqlite/client.ts';

/**
 * Takes the lock under which a shop is written (on SQLite the transaction has the whole file's already), and counts the change,
 * in one statement. Returns the count; null when there is no such shop.
 */
export async function lockAndCount(transaction: Prisma.TransactionClient, shopId: string): Promise<number | null> {
  const [row] = await transaction.$queryRaw<{ changes: number | bigint }[]>`
    UPDATE "Shop" SET "changes" = "changes" + 1 WHERE "id" = ${shopId} RETURNING "changes"`;
  return row === undefined ? null : Number(row.changes);
}

const MOST = 2 ** 47;

/** Where a new shop's count begins: one that was deleted and made anew under the same id repeats no number. */
export function firstCount(): bigint {
  return BigInt(randomInt(MOST));
}
