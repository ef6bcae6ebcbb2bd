import { z } from 'zod';
import { promiseOutlook } from '../../../shop/promises/at-risk.ts';
import { promiseCalibration } from '../../../shop/promises/calibration-of.ts';
import type { CoverageLine, PromiseOutlook } from '../../../shop/promises/promise-views.ts';
import { applyRemedy, remediesFor } from '../../../shop/promises/remedies.ts';
import { LocalDate } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfJob, OfShop } from '../../wire/addresses.ts';
import { asCsv, csvReply } from '../../wire/csv.ts';
import { tagOf } from '../../wire/entity-tag.ts';
import { stretchOf } from '../../wire/local-day.ts';
import { PageQuery, pageByPosition } from '../../wire/page.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { pageOf } from '../../wire/reply.ts';
import { JobViewReply } from '../jobs/schemas.ts';
import { ApplyBody, CalibrationReply, PromiseLine, RemediesReply } from './schemas.ts';

/** Promises still to be kept, what could be done about one at risk, and how well promises were kept. */
export function promiseRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['promises'];

  app.get(
    '/promises',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listPromises',
        summary: 'Promises still to be kept, most endangered first',
        tags,
        params: OfShop,
        querystring: PageQuery.extend({
          day: LocalDate.optional().describe("Only pickups promised for this day in the shop's zone."),
          state: z.enum(['atRisk', 'all']).default('all'),
        }),
        response: { 200: pageOf(PromiseLine), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { day, state, ...page } = request.query;
      const stretch = day === undefined ? null : stretchOf(day, request.zone);
      const asked = (outlook: PromiseOutlook) =>
        (state === 'all' || outlook.atRisk) &&
        (stretch === null || (outlook.promisedPickupAt >= stretch.from && outlook.promisedPickupAt < stretch.to));
      const outlooks = (await promiseOutlook(deps.shop, request.params)).filter(asked);
      return pageByPosition(outlooks, (outlook) => outlook.jobId, page);
    },
  );

  app.get(
    '/promises/calibration',
    {
      config: { needs: 'figures' },
      schema: {
        operationId: 'getPromiseCalibration',
        summary: 'Promises given against what was achieved, and what the floor’s records have taught',
        tags,
        params: OfShop,
        response: { 200: CalibrationReply, ...problemReplies('not-found') },
      },
    },
    async (request) => promiseCalibration(deps.shop, request.params),
  );

  app.get(
    '/promises/calibration.csv',
    {
      config: { needs: 'figures' },
      schema: {
        operationId: 'getPromiseCalibrationCsv',
        summary: 'Promises kept by the confidence they were given at, as CSV',
        tags,
        params: OfShop,
        response: { 200: csvReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const { coverage } = await promiseCalibration(deps.shop, request.params);
      reply.type('text/csv; charset=utf-8').header('content-disposition', 'attachment; filename="promises-kept.csv"');
      return reply.send(asCsv<CoverageLine>(coverageColumns, coverage));
    },
  );

  app.get(
    '/promises/:jobId/remedies',
    {
      config: { needs: 'plan' },
      schema: {
        operationId: 'listRemedies',
        summary: 'What could be done about a promise, planned and simulated, with what it costs the other promises',
        tags,
        params: OfJob,
        response: { 200: RemediesReply, ...problemReplies('not-found', 'wrong-state', 'busy') },
      },
    },
    async (request) => remediesFor(deps.shop, request.params),
  );

  app.post(
    '/promises/:jobId/remedies/:key/apply',
    {
      config: { needs: 'plan' },
      schema: {
        operationId: 'applyRemedy',
        summary: 'Do a remedy: the plan is published with it, and who decided it is noted on the car',
        tags,
        params: OfJob.extend({ key: z.string().min(1).max(200) }),
        headers: IdempotencyKey,
        body: ApplyBody,
        response: { 200: JobViewReply, ...problemReplies(...ofPost, 'stale', 'wrong-state', 'refused', 'busy') },
      },
    },
    async (request, reply) => {
      const view = await applyRemedy(deps.shop, { ...request.params, ...request.body });
      return reply.header('etag', tagOf(view.job.version, view.planVersion)).send(view);
    },
  );
}

const coverageColumns = [
  'givenPercent',
  'promises',
  'kept',
  'keptPercent',
  'fromPercent',
  'toPercent',
  'verdict',
] as const;
