import { timingSafeEqual } from 'node:crypto';
import { AccountId } from '../../trade/model/ids.ts';
import { Invalid, NotSignedIn, WrongState } from '../problems/problems.ts';
import { beginSession, type Session } from './begin-session.ts';
import type { AccessDeps } from './deps.ts';
import { hashPassword } from './password.ts';
import { hashOfSecret, newSecret } from './secret.ts';
import { signInNameOf } from './sign-in-name.ts';

/** Makes the first administrator, once, for whoever can read the server's own output. */
export interface FirstAdministrator {
  /** To be shown where only who runs the server reads; null when there is somebody who can sign in already. */
  readonly secret: string | null;
  /** @throws NotSignedIn (secret), WrongState (somebody was first), Invalid (names the field) */
  claim(input: { secret: string; signInName: string; name: string; password: string }): Promise<Session>;
}

/** There is no password to begin with: a server that nobody administers makes a secret, and who brings it chooses one. */
export async function firstAdministrator(deps: AccessDeps): Promise<FirstAdministrator> {
  const secret = (await deps.store.accounts.administrators()) === 0 ? newSecret() : null;
  return {
    secret,
    async claim({ secret: given, name, ...rest }) {
      if (secret === null || !same(given, secret)) throw new NotSignedIn('This is not the link this server printed.');
      const signInName = signInNameOf(rest.signInName);
      if (signInName.length < 3) throw new Invalid('A sign-in name has three characters at least.', 'signInName');
      const passwordHash = await hashPassword(rest.password, [signInName, name]);
      if ((await deps.store.accounts.administrators()) > 0)
        throw new WrongState('Somebody was first; sign in.', 'secret');
      const id = AccountId.parse(FIRST_ID);
      const account = { id, signInName, name, passwordHash, administrator: true, disabled: false, roles: [] };
      return beginSession(deps, await deps.store.accounts.put(account, 'new'), null);
    },
  };
}

/** One id for whoever is first, so that of two at once the database admits one. */
const FIRST_ID = 'first-administrator';

function same(one: string, other: string): boolean {
  return timingSafeEqual(Buffer.from(hashOfSecret(one)), Buffer.from(hashOfSecret(other)));
}
