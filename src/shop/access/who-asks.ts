import type { Account, Store } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { Permission, permissionsOf } from './permission.ts';
import { nobody, type Principal } from './principal.ts';
import { hashOfSecret } from './secret.ts';

/** What a request brings to show who sends it. */
export interface Credentials {
  /** From the cookie of a session. */
  readonly session: string | null;
  /** From the header of a program. */
  readonly token: string | null;
}

/** So long an answer is kept: a session ended on another server still counts here for as long. */
const KEPT_MS = 5_000;
const MOST_KEPT = 2_000;
/** How often it is noted that a session is in use. */
const SEEN_EVERY_MS = 10 * 60_000;

export interface WhoAsks {
  /** `nobody` when nothing was brought or nothing of it counts. */
  principalOf(credentials: Credentials, now: Instant): Promise<Principal>;
  /** After a change of accounts, sessions, tablets or tokens. */
  forget(): void;
}

/** Tells who sends a request. */
export function createWhoAsks(store: Store): WhoAsks {
  const known = new Map<string, { principal: Principal; until: number }>();
  const keep = (secretHash: string, principal: Principal, until: number) => {
    if (known.size >= MOST_KEPT) known.clear();
    known.set(secretHash, { principal, until });
    return principal;
  };
  return {
    async principalOf({ session, token }, now) {
      const secret = token ?? session;
      if (secret === null) return nobody;
      const secretHash = hashOfSecret(secret);
      const before = known.get(secretHash);
      if (before !== undefined && before.until > now) return before.principal;
      const found = token === null ? await bySession(store, secretHash, now) : await byToken(store, secretHash, now);
      return found === null
        ? keep(secretHash, nobody, now + KEPT_MS)
        : keep(secretHash, found.principal, Math.min(now + KEPT_MS, found.expiresAt));
    },
    forget: () => known.clear(),
  };
}

interface Found {
  readonly principal: Principal;
  readonly expiresAt: number;
}

async function bySession(store: Store, secretHash: string, now: Instant): Promise<Found | null> {
  const signIn = await store.signIns.get(secretHash);
  if (signIn === null || signIn.expiresAt <= now) return null;
  const account = await store.accounts.get(signIn.accountId);
  if (account === null || account.disabled) return null;
  if (now - signIn.lastSeenAt >= SEEN_EVERY_MS) await store.signIns.seen(secretHash, now);
  return {
    principal: { ...ofAccount(account, signIn.shopId), deviceId: signIn.deviceId },
    expiresAt: signIn.expiresAt,
  };
}

/** `only`: the shop of the shared tablet, where nobody administers anything. */
function ofAccount(account: Account, only: ShopId | null): Principal {
  const roles = account.roles.filter(({ shopId }) => only === null || shopId === only);
  return {
    who: `account:${account.id}`,
    name: account.name,
    accountId: account.id,
    deviceId: null,
    administrator: account.administrator && only === null,
    shops: new Map(roles.map(({ shopId, role }) => [shopId, onTablet(permissionsOf(role), only)])),
    technicians: new Map(
      roles.flatMap(({ shopId, technicianId }) => (technicianId === null ? [] : [[shopId, technicianId] as const])),
    ),
  };
}

/** A PIN is short: what needs a password elsewhere is not done on a shared tablet. */
function onTablet(permissions: ReadonlySet<Permission>, only: ShopId | null): ReadonlySet<Permission> {
  return only === null ? permissions : new Set([...permissions].filter((each) => each === 'see' || each === 'work'));
}

async function byToken(store: Store, secretHash: string, now: Instant): Promise<Found | null> {
  const token = await store.apiTokens.bySecret(secretHash);
  if (token === null || (token.expiresAt !== null && token.expiresAt <= now)) return null;
  const scopes = token.scopes.flatMap((scope) => {
    const known = Permission.safeParse(scope);
    return known.success ? [known.data] : [];
  });
  const principal: Principal = {
    ...nobody,
    who: `token:${token.id}`,
    name: token.name,
    shops: new Map([[token.shopId, new Set(scopes)]]),
  };
  return { principal, expiresAt: token.expiresAt ?? Number.POSITIVE_INFINITY };
}
