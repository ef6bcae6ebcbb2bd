import type { AccountId } from '../../trade/model/ids.ts';
import { NotSignedIn } from '../problems/problems.ts';
import { lockAfter, mustBeCounted } from './attempts.ts';
import { beginSession, type Session } from './begin-session.ts';
import type { AccessDeps } from './deps.ts';
import { isRight } from './password.ts';
import { hashOfSecret } from './secret.ts';

/**
 * Signs a person in on a shared tablet of the shop by a PIN, which counts nowhere else.
 * @throws NotSignedIn, TooManyAttempts (on this tablet, whoever tried)
 */
export async function signInByPin(
  deps: AccessDeps,
  input: { deviceSecret: string | null; accountId: AccountId; pin: string },
): Promise<Session> {
  const device = await deps.store.devices.bySecret(hashOfSecret(input.deviceSecret ?? ''));
  if (device === null) throw new NotSignedIn('This is not one of the shop’s tablets; sign in with name and password.');
  const now = deps.clock();
  const { shopId, id } = device;
  mustBeCounted(await deps.store.devices.countAttempt(shopId, id, now, lockAfter(now)));
  const account = await deps.store.accounts.get(input.accountId);
  const role = account?.roles.find((each) => each.shopId === shopId);
  const right = await isRight(input.pin, role?.pinHash ?? null);
  if (account === null || !right || account.disabled) throw new NotSignedIn('The PIN is wrong.');
  await deps.store.devices.clearAttempts(shopId, id);
  return beginSession(deps, account, device);
}
