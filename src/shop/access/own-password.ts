import { NotSignedIn } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { lockAfter, mustBeCounted } from './attempts.ts';
import type { AccessDeps } from './deps.ts';
import { hashPassword, isRight } from './password.ts';
import type { Principal } from './principal.ts';
import { hashOfSecret } from './secret.ts';

/**
 * Changes a person's own password, who gives the one before; every other session of the account ends (OWASP ASVS 4.0, 2.1.6
 * and 3.3.3). @throws NotSignedIn (the password before is wrong), TooManyAttempts, Invalid (password), Stale
 */
export async function changeOwnPassword(
  deps: AccessDeps,
  input: { principal: Principal; current: string; password: string; sessionSecret: string | null },
): Promise<void> {
  const { principal, current, password, sessionSecret } = input;
  const account = principal.accountId === null ? null : await deps.store.accounts.get(principal.accountId);
  if (account === null || principal.deviceId !== null) {
    throw new NotSignedIn('Sign in with name and password to change the password.');
  }
  const now = deps.clock();
  mustBeCounted(await deps.store.accounts.countAttempt(account.id, now, lockAfter(now)));
  if (!(await isRight(current, account.passwordHash))) throw new NotSignedIn('The password before is wrong.');
  await deps.store.accounts.clearAttempts(account.id);
  const passwordHash = await hashPassword(password, [account.signInName, account.name]);
  await inShopTerms(() => deps.store.accounts.put({ ...account, passwordHash }, account.version));
  await deps.store.signIns.endAllOf(account.id, sessionSecret === null ? undefined : hashOfSecret(sessionSecret));
}
