import { NotSignedIn } from '../problems/problems.ts';
import { lockAfter, mustBeCounted } from './attempts.ts';
import { beginSession, type Session } from './begin-session.ts';
import type { AccessDeps } from './deps.ts';
import { isRight } from './password.ts';
import { signInNameOf } from './sign-in-name.ts';

/**
 * Signs a person in. An unknown name takes as long as a wrong password, and both hear the same.
 * @throws NotSignedIn, TooManyAttempts
 */
export async function signIn(deps: AccessDeps, input: { signInName: string; password: string }): Promise<Session> {
  const account = await deps.store.accounts.bySignInName(signInNameOf(input.signInName));
  if (account !== null) {
    const now = deps.clock();
    mustBeCounted(await deps.store.accounts.countAttempt(account.id, now, lockAfter(now)));
  }
  const right = await isRight(input.password, account?.passwordHash ?? null);
  if (account === null || !right || account.disabled) throw new NotSignedIn('The name or the password is wrong.');
  await deps.store.accounts.clearAttempts(account.id);
  return beginSession(deps, account, null);
}
