import { z } from 'zod';
import type { ApiToken } from '../../store/store.ts';
import { type ShopId, TokenId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import { Invalid } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import type { AccessDeps } from './deps.ts';
import { Permission } from './permission.ts';
import type { Principal } from './principal.ts';
import { permissionsIn } from './principal.ts';
import { hashOfSecret, newSecret } from './secret.ts';

export const NewApiToken = z.object({
  name: z.string().trim().min(1).max(120),
  scopes: z.array(Permission).min(1).describe('What the token may do; no more than who makes it.'),
  expiresAt: Instant.nullable().default(null),
});
export type NewApiToken = z.infer<typeof NewApiToken>;

/** Makes a token for a program. Its secret is told once. @throws Invalid (scopes, expiresAt) */
export async function addApiToken(
  deps: AccessDeps,
  input: NewApiToken & { shopId: ShopId; by: Principal },
): Promise<{ token: ApiToken; secret: string }> {
  const { shopId, by, name, expiresAt } = input;
  const now = deps.clock();
  if (expiresAt !== null && expiresAt <= now) throw new Invalid('The token would have expired already.', 'expiresAt');
  const own = permissionsIn(by, shopId);
  const beyond = input.scopes.filter((scope) => !own.has(scope));
  if (beyond.length > 0) throw new Invalid(`You may not give what you do not have: ${beyond.join(', ')}.`, 'scopes');
  const secret = newSecret();
  const token: ApiToken = {
    shopId,
    id: TokenId.parse(deps.newId()),
    name,
    scopes: [...new Set(input.scopes)],
    secretHash: hashOfSecret(secret),
    createdAt: now,
    createdBy: by.who,
    expiresAt,
  };
  await inShopTerms(() => deps.store.apiTokens.add(token));
  return { token, secret };
}

/** Withdraws a token at once. @throws NotFound */
export async function removeApiToken(deps: AccessDeps, input: { shopId: ShopId; tokenId: TokenId }): Promise<void> {
  await inShopTerms(() => deps.store.apiTokens.remove(input.shopId, input.tokenId));
}
