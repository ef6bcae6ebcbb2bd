import { findJob } from '../../../shop/jobs/find-job.ts';
import { listJobs } from '../../../shop/jobs/list-jobs.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfJob, OfShop } from '../../wire/addresses.ts';
import { stretchOf } from '../../wire/local-day.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { pageOf } from '../../wire/reply.ts';
import { JobLine, JobsQuery, JobViewReply } from './schemas.ts';
import { viewTag } from './view-tag.ts';

const tags = ['jobs'];

/** Jobs as the desk finds them. */
export function jobReadingRoutes(app: Api, deps: ApiDeps): void {
  app.get(
    '/jobs',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listJobs',
        summary: 'Jobs by when the car came or is to come, of a day or of some states',
        tags,
        params: OfShop,
        querystring: JobsQuery,
        response: { 200: pageOf(JobLine), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { state, day, search, limit, cursor } = request.query;
      const page = await listJobs(deps.shop, {
        shopId: request.params.shopId,
        limit,
        ...(cursor === undefined ? {} : { cursor }),
        ...(state === undefined ? {} : { states: state }),
        ...(search === undefined ? {} : { search }),
        ...(day === undefined ? {} : { visiting: stretchOf(day, request.zone) }),
      });
      return { items: page.jobs, nextCursor: page.next };
    },
  );

  app.get(
    '/jobs/:jobId',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getJob',
        summary: 'A job and its part of the current plan',
        tags,
        params: OfJob,
        response: { 200: JobViewReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const view = await findJob(deps.shop, request.params);
      return reply.header('etag', viewTag(view)).send(view);
    },
  );
}
