import { z } from 'zod';
import { answerScope } from '../../../shop/inspection/answer-scope.ts';
import { recordInspection } from '../../../shop/inspection/record-inspection.ts';
import { Inspection } from '../../../trade/model/condition.ts';
import { Job } from '../../../trade/model/job.ts';
import { Instant } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfJob } from '../../wire/addresses.ts';
import { IfMatch, tagOf } from '../../wire/entity-tag.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ofPost, ofVersioned, problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';
import { jobToChange } from '../jobs/job-to-change.ts';
import { JobViewReply } from '../jobs/schemas.ts';

export const RevisedScopeReply = onTheWire(
  z.object({
    job: Job,
    correctionPasses: z.int(),
    priceMinor: z.int(),
    priceBeforeMinor: z.int(),
    readyAt: Instant.nullable(),
    pickupAt: Instant.nullable(),
    promiseKept: z.boolean(),
    answerBy: Instant,
    refusedPanels: listOf(z.object({ rule: z.string(), field: z.string(), text: z.string() })),
    leadDecides: listOf(z.string()),
  }),
);

/** The inspection on clean paint and the customer's answer to it. */
export function inspectionRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['inspections'];
  const headers = IfMatch.extend(IdempotencyKey.shape);
  const refusals = problemReplies(...ofPost, ...ofVersioned, 'refused', 'busy');

  app.post(
    '/jobs/:jobId/inspection',
    {
      config: { needs: 'work' },
      schema: {
        operationId: 'recordInspection',
        summary: 'Record defects and film readings on clean paint; scope, price and time are revised',
        tags,
        params: OfJob,
        headers,
        body: onTheWire(Inspection),
        response: { 201: RevisedScopeReply, ...refusals },
      },
    },
    async (request, reply) => {
      const target = await jobToChange(deps, request, request.params);
      const revised = await recordInspection(deps.shop, { ...target, inspection: request.body });
      return reply.code(201).header('etag', tagOf(revised.job.version)).send(revised);
    },
  );

  app.post(
    '/jobs/:jobId/scope-answer',
    {
      config: { needs: 'book' },
      schema: {
        operationId: 'answerScope',
        summary: "The customer's answer to the revised scope",
        tags,
        params: OfJob,
        headers,
        body: z.object({ answer: z.enum(['approved', 'declined']) }),
        response: { 200: JobViewReply, ...refusals },
      },
    },
    async (request, reply) => {
      const target = await jobToChange(deps, request, request.params);
      const view = await answerScope(deps.shop, { ...target, answer: request.body.answer });
      return reply.header('etag', tagOf(view.job.version, view.planVersion)).send(view);
    },
  );
}
