import type { Account, Device } from '../../store/store.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { AccessDeps } from './deps.ts';
import { hashOfSecret, newSecret } from './secret.ts';

/**
 * A working day with its overtime, then one signs in anew (OWASP ASVS 4.0, 3.3.2, level 2: 12 hours). Its other limit, half
 * an hour without activity, is left out: the screens of a shop are read for hours by people with wet hands.
 */
export const SESSION_MS = 12 * 60 * 60_000;

export interface Session {
  /** For the owner's cookie, told once. */
  readonly secret: string;
  readonly expiresAt: Instant;
}

/** Begins a session; on a shared tablet it reaches the tablet's shop alone. */
export async function beginSession(deps: AccessDeps, account: Account, device: Device | null): Promise<Session> {
  const secret = newSecret();
  const now = deps.clock();
  const expiresAt = (now + SESSION_MS) as Instant;
  await deps.store.signIns.add({
    secretHash: hashOfSecret(secret),
    accountId: account.id,
    deviceId: device?.id ?? null,
    shopId: device?.shopId ?? null,
    createdAt: now,
    lastSeenAt: now,
    expiresAt,
  });
  return { secret, expiresAt };
}
