import { z } from 'zod';
import { technicianQueue } from '../../../shop/floor/queue.ts';
import { takeTimeOff } from '../../../shop/floor/time-off.ts';
import { JobId, OperationKey, PlaceId, TechnicianId } from '../../../trade/model/ids.ts';
import { PlannedOperation } from '../../../trade/model/plan.ts';
import { Instant, LocalDate } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfTechnician } from '../../wire/addresses.ts';
import { DayQuery, todayIn } from '../../wire/local-day.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';
import { ReplannedReply } from '../plan/routes.ts';

const QueueItem = z.object({
  when: z.enum(['now', 'next', 'later', 'done']),
  jobId: JobId,
  operation: OperationKey,
  planned: PlannedOperation,
  car: z.string(),
  look: z.string(),
  registration: z.string(),
  placeId: PlaceId.nullable(),
  placeName: z.string(),
  windowClosesAt: Instant.nullable(),
  minutesToWindow: z.int().nullable(),
  instructions: listOf(
    z.object({
      text: z.string(),
      clock: z.object({ label: z.string(), fromSeconds: z.number(), toSeconds: z.number() }).optional(),
    }),
  ),
  cautions: listOf(
    z.object({ hazard: z.string(), text: z.string(), precautions: listOf(z.string()), defersTo: z.string() }),
  ),
  products: listOf(z.string()),
  conditions: listOf(z.string()),
});

export const QueueReply = onTheWire(
  z.object({
    technicianId: TechnicianId,
    name: z.string(),
    date: LocalDate,
    asOf: Instant,
    planVersion: z.int(),
    items: listOf(QueueItem),
  }),
);

/** A technician's day. */
export function queueRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['floor'];

  app.get(
    '/technicians/:technicianId/queue',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getQueue',
        summary: "A technician's day in order, with cautions and running windows",
        tags,
        params: OfTechnician,
        querystring: DayQuery,
        response: { 200: QueueReply, ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { day = todayIn(request.zone, deps.shop.clock()) } = request.query;
      return technicianQueue(deps.shop, { ...request.params, date: day });
    },
  );

  app.post(
    '/technicians/:technicianId/time-off',
    {
      config: { needs: 'work' },
      schema: {
        operationId: 'takeTimeOff',
        summary: 'Somebody is away from one instant to another; the book is planned again at once',
        tags,
        params: OfTechnician,
        headers: IdempotencyKey,
        body: onTheWire(z.object({ from: Instant, to: Instant, note: z.string().max(200).default('') })),
        response: {
          201: ReplannedReply,
          ...problemReplies(...ofPost, 'busy'),
        },
      },
    },
    async (request, reply) =>
      reply.code(201).send(await takeTimeOff(deps.shop, { ...request.params, ...request.body })),
  );
}
