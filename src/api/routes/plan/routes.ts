import { z } from 'zod';
import { currentPlan } from '../../../shop/planning/current-plan.ts';
import { replanAtOnce } from '../../../shop/planning/replan.ts';
import { JobId } from '../../../trade/model/ids.ts';
import { Plan } from '../../../trade/model/plan.ts';
import { Instant } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfShop } from '../../wire/addresses.ts';
import { tagOf } from '../../wire/entity-tag.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';

export const ReplannedReply = onTheWire(
  z.object({
    plan: Plan,
    broken: listOf(z.object({ jobId: JobId, lateMinutes: z.int() })),
    released: listOf(z.string()),
    published: z.boolean(),
  }),
);

/** The published plan, and making a new one. */
export function planRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['plan'];

  app.get(
    '/plan',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getPlan',
        summary: 'The published plan of every open job; version 0 and empty before the first',
        tags,
        params: OfShop,
        response: { 200: onTheWire(Plan), ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const plan = await currentPlan(deps.shop, request.params);
      return reply.header('etag', tagOf(plan.version)).send(plan);
    },
  );

  app.get(
    '/plan/version',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getPlanVersion',
        summary: 'Which plan stands, and how good it is',
        tags,
        params: OfShop,
        response: {
          200: onTheWire(
            z.object({
              version: z.int(),
              madeAt: Instant,
              reason: z.string(),
              objective: Plan.shape.objective,
              interrupted: z.boolean(),
            }),
          ),
          ...problemReplies('not-found'),
        },
      },
    },
    async (request, reply) => {
      const plan = await currentPlan(deps.shop, request.params);
      return reply.header('etag', tagOf(plan.version)).send(plan);
    },
  );

  app.post(
    '/plan/replans',
    {
      config: { needs: 'plan' },
      schema: {
        operationId: 'replan',
        summary: 'Plan the whole book again now',
        description:
          'Replies with the first plan that obeys every rule; a better one is looked for after it and published when found.',
        tags,
        params: OfShop,
        headers: IdempotencyKey,
        body: z.object({ reason: z.string().min(1).max(200) }),
        response: {
          201: ReplannedReply,
          ...problemReplies(...ofPost, 'busy'),
        },
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      const done = await replanAtOnce(deps.shop, { shopId, reason: request.body.reason });
      return reply.code(201).header('location', `/v1/shops/${shopId}/plan`).send(done);
    },
  );
}
