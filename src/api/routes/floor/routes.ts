import { z } from 'zod';
import { floorHistory } from '../../../shop/feeds/floor-history.ts';
import { gatesOf } from '../../../shop/floor/ask-gates.ts';
import { type Recorded, recordFact } from '../../../shop/floor/record-fact.ts';
import { startOperation } from '../../../shop/floor/start-operation.ts';
import { TechnicianId } from '../../../trade/model/ids.ts';
import { FloorEvent, FloorFact } from '../../../trade/model/job.ts';
import { Instant } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey, sendWithEffect } from '../../plugins/idempotency.ts';
import { OfJob, OfOperation } from '../../wire/addresses.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { listOf, pageOf } from '../../wire/reply.ts';

const clientId = z.string().min(8).max(64).describe('Made by the device; the same id again is the same event.');

export const RecordedReply = onTheWire(
  z.object({ event: FloorEvent, fresh: z.boolean(), exceptions: listOf(z.string()) }),
);

const ObjectionReply = z.object({ rule: z.string(), field: z.string(), text: z.string() });

const freshOrKnown = ({ fresh }: Recorded) => ({ status: fresh ? 201 : 200 });

/** What happens on the floor. */
export function floorRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['floor'];

  app.get(
    '/jobs/:jobId/floor-events',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listFloorEvents',
        summary: 'What has happened to a car, in the order it was recorded',
        tags,
        params: OfJob,
        querystring: z.object({
          after: z.coerce.number().int().min(0).default(0).describe('Leaves out events up to this sequence number.'),
        }),
        response: { 200: pageOf(FloorEvent), ...problemReplies('not-found') },
      },
    },
    async (request) => ({
      items: await floorHistory(deps.shop, { ...request.params, after: request.query.after }),
      nextCursor: null,
    }),
  );

  app.post(
    '/jobs/:jobId/floor-events',
    {
      config: { needs: 'work' },
      schema: {
        operationId: 'recordFloorEvent',
        summary: 'Record what has happened, even against a rule: arrived, started, finished, interrupted, moved, ...',
        tags,
        params: OfJob,
        headers: IdempotencyKey,
        body: onTheWire(z.object({ clientId, occurredAt: Instant, fact: FloorFact })),
        response: { 200: RecordedReply, 201: RecordedReply, ...problemReplies(...ofPost) },
      },
    },
    async (request, reply) =>
      sendWithEffect(request, reply, freshOrKnown, (alsoAnswer) =>
        recordFact(deps.shop, { ...request.params, ...request.body }, alsoAnswer),
      ),
  );

  app.get(
    '/jobs/:jobId/operations/:operation/gates',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getGates',
        summary: 'What stands against starting an operation now; empty when nothing does',
        tags,
        params: OfOperation,
        querystring: z.object({
          by: z
            .string()
            .default('')
            .transform((text) => text.split(',').filter((id) => id !== ''))
            .pipe(z.array(TechnicianId).max(4))
            .describe('Who would do it, with commas between.'),
        }),
        response: {
          200: z.object({ open: z.boolean(), objections: listOf(ObjectionReply) }),
          ...problemReplies('not-found'),
        },
      },
    },
    async (request) => {
      const objections = await gatesOf(deps.shop, { ...request.params, by: request.query.by });
      return { open: objections.length === 0, objections };
    },
  );

  app.post(
    '/jobs/:jobId/operations/:operation/start',
    {
      config: { needs: 'work' },
      schema: {
        operationId: 'startOperation',
        summary: 'Start work now, if its gates are open: hold points, windows, readings, certificate, place',
        tags,
        params: OfOperation,
        headers: IdempotencyKey,
        body: z.object({ by: z.array(TechnicianId).min(1).max(4), clientId }),
        response: {
          200: RecordedReply,
          201: RecordedReply,
          ...problemReplies(...ofPost, 'gate-shut', 'wrong-state'),
        },
      },
    },
    async (request, reply) =>
      sendWithEffect(request, reply, freshOrKnown, (alsoAnswer) =>
        startOperation(deps.shop, { ...request.params, ...request.body }, alsoAnswer),
      ),
  );
}
