import { z } from 'zod';
import { permissionsIn } from '../../../shop/access/principal.ts';
import { findShop, listShops, putShop, versionOfShop } from '../../../shop/setup/shop.ts';
import { ShopId } from '../../../trade/model/ids.ts';
import { Shop } from '../../../trade/model/shop.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { expectedByPut, IfMatchOrNew, tagOf } from '../../wire/entity-tag.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { pageOf } from '../../wire/reply.ts';
import { sameId } from '../../wire/same-id.ts';

const ShopParams = z.object({ shopId: ShopId });
const ShopReply = onTheWire(Shop);

/** Shops themselves. */
export function shopRoutes(app: Api, deps: ApiDeps): void {
  app.get(
    '/v1/shops',
    {
      config: { needs: 'signedIn' },
      schema: {
        operationId: 'listShops',
        summary: 'The shops that whoever asks serves',
        tags: ['shop'],
        response: { 200: pageOf(Shop), ...problemReplies() },
      },
    },
    async ({ principal }) => {
      const shops = (await listShops(deps.shop)).map((shop) => shop.value);
      return { items: shops.filter(({ id }) => permissionsIn(principal, id).size > 0), nextCursor: null };
    },
  );

  app.get(
    '/v1/shops/:shopId',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getShop',
        summary: 'A shop: zone, hours, defaults',
        tags: ['shop'],
        params: ShopParams,
        response: { 200: ShopReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const shop = await findShop(deps.shop, request.params);
      return reply.header('etag', tagOf(shop.version)).send(shop.value);
    },
  );

  app.put(
    '/v1/shops/:shopId',
    {
      config: { needs: 'setUp' },
      schema: {
        operationId: 'putShop',
        summary: 'Make a shop, or replace what it says of itself',
        tags: ['shop'],
        params: ShopParams,
        headers: IfMatchOrNew,
        body: ShopReply,
        response: {
          200: ShopReply,
          201: ShopReply,
          ...problemReplies('stale', 'precondition-required', 'refused', 'malformed-json', 'unsupported-media-type'),
        },
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      sameId(request.body.id, shopId);
      const expected = expectedByPut(request, 'shop', await versionOfShop(deps.shop, { shopId }));
      const shop = await putShop(deps.shop, { shop: request.body, expected });
      return reply
        .code(expected === 'new' ? 201 : 200)
        .header('etag', tagOf(shop.version))
        .send(shop.value);
    },
  );
}
