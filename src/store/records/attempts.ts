import { Instant } from '../../trade/model/time.ts';
import type { Attempts } from '../contract/access.ts';

/** How attempts stand in a row of an account or a device. */
export interface AttemptColumns {
  readonly failedAttempts: number;
  readonly lockedUntil: bigint;
}

/**
 * What a row looks like after one more attempt, and what it was before; null when attempts are locked. The attempt counts
 * as failed until its secret has been seen to be right.
 */
export function oneMore(
  row: AttemptColumns,
  now: Instant,
  lockUntil: (failed: number) => Instant | null,
): { before: Attempts; data: { failedAttempts: number; lockedUntil: bigint } } | null {
  if (row.lockedUntil > BigInt(now)) return null;
  const failed = row.failedAttempts + 1;
  const lockedUntil = row.lockedUntil === 0n ? null : Instant.parse(Number(row.lockedUntil));
  return {
    before: { failed: row.failedAttempts, lockedUntil },
    data: { failedAttempts: failed, lockedUntil: BigInt(lockUntil(failed) ?? 0) },
  };
}

export const noAttempts = { failedAttempts: 0, lockedUntil: 0n } as const;
