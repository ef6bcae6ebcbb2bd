import type { AccessDeps } from './deps.ts';
import { hashOfSecret } from './secret.ts';

/** Ends a session; one that has ended already is no matter. */
export async function signOut(deps: AccessDeps, input: { secret: string }): Promise<void> {
  await deps.store.signIns.end(hashOfSecret(input.secret));
}
