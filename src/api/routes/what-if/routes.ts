import { applyWish } from '../../../shop/what-if/apply-wish.ts';
import { whatIfItRains } from '../../../shop/what-if/rain.ts';
import { whatIf } from '../../../shop/what-if/what-if.ts';
import { withdrawWish } from '../../../shop/what-if/withdraw-wish.ts';
import { addDays } from '../../../trade/calendar/local-instant.ts';
import type { ShopId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfOperation, OfShop } from '../../wire/addresses.ts';
import { IfMatch, matchedVersion, tagOf } from '../../wire/entity-tag.ts';
import { todayIn } from '../../wire/local-day.ts';
import { ofPost, ofVersioned, problemReplies } from '../../wire/problem-replies.ts';
import { RainQuery, RainReply, WhatIfBody, WhatIfReply, WishBody, WishReply, WithdrawnReply } from './schemas.ts';

/** "What if it went here": asked before anything is kept, then kept as a wish of the desk, or withdrawn. */
export function whatIfRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['what if'];
  const standing = (shopId: ShopId) => deps.shop.store.plans.currentVersion(shopId);

  app.post(
    '/what-ifs',
    {
      config: { needs: 'plan', computesOnly: true },
      schema: {
        operationId: 'askWhatIf',
        summary:
          'Whether work may go elsewhere, what forbids it, what would move and which promises change; nothing is kept',
        tags,
        params: OfShop,
        body: WhatIfBody,
        response: {
          200: WhatIfReply,
          ...problemReplies(
            'not-found',
            'wrong-state',
            'busy',
            'malformed-json',
            'too-large',
            'unsupported-media-type',
          ),
        },
      },
    },
    async (request, reply) => {
      const answer = await whatIf(deps.shop, { ...request.params, asked: request.body });
      return reply.header('etag', tagOf(answer.planVersion)).send(answer);
    },
  );

  app.get(
    '/what-ifs/rain',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'askWhatIfItRains',
        summary: 'Cars that rain on a day would reach, which of them must stay dry, and what to do',
        tags,
        params: OfShop,
        querystring: RainQuery,
        response: { 200: RainReply, ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { airTempC, relativeHumidityPercent } = request.query;
      const day = request.query.day ?? addDays(todayIn(request.zone, deps.shop.clock()), 1);
      const known = airTempC !== undefined && relativeHumidityPercent !== undefined;
      const outside = known ? { airTempC, relativeHumidityPercent } : null;
      return whatIfItRains(deps.shop, { ...request.params, day, outside });
    },
  );

  app.post(
    '/wishes',
    {
      config: { needs: 'plan' },
      schema: {
        operationId: 'applyWhatIf',
        summary: 'Keep a what-if: the plan is published with it; later plans keep it until the work begins',
        tags,
        params: OfShop,
        headers: IfMatch.extend(IdempotencyKey.shape),
        body: WishBody,
        response: {
          201: WishReply,
          ...problemReplies(...ofPost, ...ofVersioned, 'refused', 'slot-gone', 'busy'),
        },
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      const { whatIf: asked, acceptBroken } = request.body;
      const expectedPlan = matchedVersion(request, 'plan', await standing(shopId));
      const applied = await applyWish(deps.shop, { shopId, asked, expectedPlan, acceptBroken });
      return reply
        .code(201)
        .header('location', `/v1/shops/${shopId}/jobs/${asked.jobId}`)
        .header('etag', tagOf(applied.published))
        .send(applied);
    },
  );

  app.post(
    '/jobs/:jobId/operations/:operation/wish/withdraw',
    {
      config: { needs: 'plan' },
      schema: {
        operationId: 'withdrawWish',
        summary:
          'Withdraw what the desk decided about an operation: a newer plan, with things back where facts allow it',
        tags,
        params: OfOperation,
        headers: IfMatch.extend(IdempotencyKey.shape),
        response: {
          200: WithdrawnReply,
          ...problemReplies(...ofPost, ...ofVersioned, 'slot-gone', 'busy'),
        },
      },
    },
    async (request, reply) => {
      const expectedPlan = matchedVersion(request, 'plan', await standing(request.params.shopId));
      const withdrawn = await withdrawWish(deps.shop, { ...request.params, expectedPlan });
      return reply.header('etag', tagOf(withdrawn.published)).send(withdrawn);
    },
  );
}
