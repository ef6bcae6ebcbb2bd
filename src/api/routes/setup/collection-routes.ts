import { z } from 'zod';
import { findThing, listThings, putThing, removeThing, versionOf } from '../../../shop/setup/collection.ts';
import type { SetupKind } from '../../../shop/setup/setup-kind.ts';
import { ShopId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { expectedByPut, IfMatch, IfMatchOrNew, matchedVersion, tagOf } from '../../wire/entity-tag.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { PageQuery, pageBy } from '../../wire/page.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { noContent, pageOf } from '../../wire/reply.ts';
import { sameId } from '../../wire/same-id.ts';

/** List, read, write and remove one kind of thing that a shop is set up with. */
export function collectionRoutes<T extends { readonly id: string }>(
  app: Api,
  deps: ApiDeps,
  kind: SetupKind<T>,
  name: { readonly one: string; readonly many: string },
): void {
  const ShopParams = z.object({ shopId: ShopId });
  const Params = z.object({ shopId: ShopId, id: kind.idSchema as z.core.$ZodType<string> });
  // Unknown to the type checker, which cannot follow a route's types through a type parameter; zod checks it all the same.
  const Thing: z.ZodType<unknown> = onTheWire(kind.schema);
  const tags = [kind.path];
  const list = `/${kind.path}`;
  const one = `${list}/:id`;

  app.get(
    list,
    {
      config: { needs: 'see' },
      schema: {
        operationId: `list${name.many}`,
        summary: `The shop's ${kind.path.replace('-', ' ')}, by id`,
        tags,
        params: ShopParams,
        querystring: PageQuery,
        response: { 200: pageOf(kind.schema), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const all = await listThings(deps.shop, kind, request.params);
      return pageBy(
        all.map((thing) => thing.value),
        (thing) => thing.id,
        request.query,
      );
    },
  );

  app.get(
    one,
    {
      config: { needs: 'see' },
      schema: {
        operationId: `get${name.one}`,
        summary: `One ${kind.what}`,
        tags,
        params: Params,
        response: { 200: Thing, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const found = await findThing(deps.shop, kind, request.params as Address<T>);
      return reply.header('etag', tagOf(found.version)).send(found.value);
    },
  );

  app.put(
    one,
    {
      config: { needs: 'setUp' },
      schema: {
        operationId: `put${name.one}`,
        summary: `Make or replace a ${kind.what}`,
        tags,
        params: Params,
        headers: IfMatchOrNew,
        body: Thing,
        response: {
          200: Thing,
          201: Thing,
          ...problemReplies(
            'not-found',
            'stale',
            'precondition-required',
            'refused',
            'malformed-json',
            'too-large',
            'unsupported-media-type',
          ),
        },
      },
    },
    async (request, reply) => {
      const { shopId, id } = request.params as Address<T>;
      const value = request.body as T;
      sameId(value.id, id);
      const expected = expectedByPut(request, kind.what, await versionOf(deps.shop, kind, { shopId, id }));
      const written = await putThing(deps.shop, kind, { shopId, value, expected });
      return reply
        .code(expected === 'new' ? 201 : 200)
        .header('etag', tagOf(written.version))
        .send(written.value);
    },
  );

  app.delete(
    one,
    {
      config: { needs: 'setUp' },
      schema: {
        operationId: `delete${name.one}`,
        summary: `Remove a ${kind.what} that nothing uses`,
        tags,
        params: Params,
        headers: IfMatch,
        response: {
          204: noContent,
          ...problemReplies('not-found', 'wrong-state', 'stale', 'precondition-required'),
        },
      },
    },
    async (request, reply) => {
      const { shopId, id } = request.params as Address<T>;
      const current = await findThing(deps.shop, kind, { shopId, id });
      const expected = matchedVersion(request, kind.what, current.version);
      await removeThing(deps.shop, kind, { shopId, id, expected });
      return reply.code(204).send();
    },
  );
}

type Address<T extends { readonly id: string }> = { readonly shopId: ShopId; readonly id: T['id'] };
