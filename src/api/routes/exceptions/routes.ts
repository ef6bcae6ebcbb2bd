import { z } from 'zod';
import { acknowledge, listExceptions } from '../../../shop/planning/desk-exceptions.ts';
import { DeskException } from '../../../trade/model/desk-exception.ts';
import { ShopId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfShop } from '../../wire/addresses.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { PageQuery, pageBy } from '../../wire/page.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { pageOf } from '../../wire/reply.ts';

/** What the desk has to know and acknowledge. */
export function exceptionRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['exceptions'];

  app.get(
    '/exceptions',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listExceptions',
        summary: 'Broken promises, released freezes, facts against a rule; newest first',
        tags,
        params: OfShop,
        querystring: PageQuery.extend({
          state: z.enum(['open', 'all']).default('open').describe('`all` shows acknowledged ones too.'),
        }),
        response: { 200: pageOf(DeskException), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { state, ...page } = request.query;
      const { shopId } = request.params;
      const found = await listExceptions(deps.shop, { shopId, includeAcknowledged: state === 'all' });
      return pageBy(found, newestFirst, page);
    },
  );

  app.post(
    '/exceptions/:exceptionId/acknowledge',
    {
      config: { needs: 'plan' },
      schema: {
        operationId: 'acknowledgeException',
        summary: 'A person has seen it; twice is no error',
        tags,
        params: z.object({ shopId: ShopId, exceptionId: z.string().min(1).max(64) }),
        headers: IdempotencyKey,
        body: z.object({ by: z.string().min(1).max(120) }),
        response: {
          200: onTheWire(DeskException),
          ...problemReplies(...ofPost),
        },
      },
    },
    async (request) => acknowledge(deps.shop, { ...request.params, by: request.body.by }),
  );
}

/** A key that rises as the list goes on. */
function newestFirst(exception: DeskException): string {
  return `${String(Number.MAX_SAFE_INTEGER - exception.raisedAt).padStart(16, '0')} ${exception.id}`;
}
