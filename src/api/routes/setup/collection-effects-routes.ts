import { z } from 'zod';
import { findThing } from '../../../shop/setup/collection.ts';
import { effectsOfPut, effectsOfRemoval } from '../../../shop/setup/effects.ts';
import type { SetupKind } from '../../../shop/setup/setup-kind.ts';
import { ShopId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { sameId } from '../../wire/same-id.ts';
import { EffectsReply } from './effects-reply.ts';

/** What writing or removing one of a kind would break in the book, before it is done. */
export function collectionEffectsRoutes<T extends { readonly id: string }>(
  app: Api,
  deps: ApiDeps,
  kind: SetupKind<T>,
  name: { readonly one: string },
): void {
  const Params = z.object({ shopId: ShopId, id: kind.idSchema as z.core.$ZodType<string> });
  // Unknown to the type checker for the reason given in `collectionRoutes`.
  const Thing: z.ZodType<unknown> = onTheWire(kind.schema);
  const tags = [kind.path];
  const one = `/${kind.path}/:id`;

  app.post(
    `${one}/effects`,
    {
      config: { needs: 'setUp', computesOnly: true },
      schema: {
        operationId: `preview${name.one}`,
        summary: `What making or replacing a ${kind.what} would break in the book; nothing is stored`,
        tags,
        params: Params,
        body: Thing,
        response: {
          200: EffectsReply,
          ...problemReplies('not-found', 'refused', 'busy', 'malformed-json', 'too-large', 'unsupported-media-type'),
        },
      },
    },
    async (request) => {
      const { shopId, id } = request.params as Address<T>;
      const value = request.body as T;
      sameId(value.id, id);
      return effectsOfPut(deps.shop, kind, { shopId, value });
    },
  );

  app.get(
    `${one}/removal-effects`,
    {
      config: { needs: 'setUp' },
      schema: {
        operationId: `previewRemovalOf${name.one}`,
        summary: `What removing a ${kind.what} would break in the book; nothing is removed`,
        tags,
        params: Params,
        response: { 200: EffectsReply, ...problemReplies('not-found', 'busy') },
      },
    },
    async (request) => {
      const address = request.params as Address<T>;
      await findThing(deps.shop, kind, address);
      return effectsOfRemoval(deps.shop, kind, address);
    },
  );
}

type Address<T extends { readonly id: string }> = { readonly shopId: ShopId; readonly id: T['id'] };
