import { AccountId, type ShopId } from '../../trade/model/ids.ts';
import { beginSession, type Session } from './begin-session.ts';
import type { AccessDeps } from './deps.ts';
import type { Role } from './permission.ts';

/**
 * Signs in to the invented shop with one click, as one of its invented people. The caller has made sure that the server
 * is in demo mode and that the request comes from its own machine. Such an account has no password and serves no other shop.
 */
export async function demoSignIn(deps: AccessDeps, input: { shopId: ShopId; role: Role }): Promise<Session> {
  const { shopId, role } = input;
  const id = AccountId.parse(`demo-${role}`);
  const account =
    (await deps.store.accounts.get(id)) ??
    (await deps.store.accounts.put(
      {
        id,
        signInName: `${id}.invalid`,
        name: `Demo ${role} (invented)`,
        passwordHash: null,
        administrator: false,
        disabled: false,
        roles: [{ shopId, role, technicianId: null, pinHash: null }],
      },
      'any',
    ));
  return beginSession(deps, account, null);
}
