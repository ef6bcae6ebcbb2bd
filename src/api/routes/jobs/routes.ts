import { book } from '../../../shop/booking/book.ts';
import { change } from '../../../shop/booking/change.ts';
import { cancel, noShow } from '../../../shop/booking/close-without-work.ts';
import { confirm } from '../../../shop/booking/confirm.ts';
import { hold } from '../../../shop/booking/hold.ts';
import { walkIn } from '../../../shop/booking/walk-in.ts';
import { findJob } from '../../../shop/jobs/find-job.ts';
import type { JobView } from '../../../shop/jobs/job-view.ts';
import { listJobs } from '../../../shop/jobs/list-jobs.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfJob, OfShop } from '../../wire/addresses.ts';
import { IfMatch, tagOf } from '../../wire/entity-tag.ts';
import { stretchOf } from '../../wire/local-day.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { pageOf } from '../../wire/reply.ts';
import { jobToChange } from './job-to-change.ts';
import { BookBody, ChangeBody, HoldBody, JobLine, JobsQuery, JobViewReply, NoteBody, WalkInBody } from './schemas.ts';

const tags = ['jobs'];
const creates = [
  'not-found',
  'malformed-json',
  'too-large',
  'unsupported-media-type',
  'still-in-flight',
  'key-reused',
] as const;
const changes = ['stale', 'precondition-required', 'wrong-state'] as const;

const viewTag = (view: JobView) => tagOf(view.job.version, view.planVersion);

/** Jobs: taken, found, changed and closed by the desk. */
export function jobRoutes(app: Api, deps: ApiDeps): void {
  app.get(
    '/jobs',
    {
      schema: {
        operationId: 'listJobs',
        summary: 'Jobs by drop-off, of a day or of some states',
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

  const taken = { 201: JobViewReply, ...problemReplies(...creates, 'refused', 'nothing-fits', 'slot-gone', 'busy') };
  const address = (view: JobView, shopId: string) => `/v1/shops/${shopId}/jobs/${view.job.id}`;

  app.post(
    '/jobs',
    {
      schema: {
        operationId: 'bookJob',
        summary: "Book a quote's choice at once",
        tags,
        params: OfShop,
        headers: IdempotencyKey,
        body: BookBody,
        response: taken,
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      const view = await book(deps.shop, { shopId, ...request.body });
      return reply.code(201).header('location', address(view, shopId)).header('etag', viewTag(view)).send(view);
    },
  );

  app.post(
    '/holds',
    {
      schema: {
        operationId: 'holdSlot',
        summary: "Keep a quote's choice for some minutes, or up to two days with a deposit note",
        tags,
        params: OfShop,
        headers: IdempotencyKey,
        body: HoldBody,
        response: taken,
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      const view = await hold(deps.shop, { shopId, ...request.body });
      return reply.code(201).header('location', address(view, shopId)).header('etag', viewTag(view)).send(view);
    },
  );

  app.post(
    '/walk-ins',
    {
      schema: {
        operationId: 'takeWalkIn',
        summary: 'Take a car that stands at the door, if today holds it without moving a promise',
        tags,
        params: OfShop,
        headers: IdempotencyKey,
        body: WalkInBody,
        response: taken,
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      const view = await walkIn(deps.shop, { shopId, ...request.body });
      return reply.code(201).header('location', address(view, shopId)).header('etag', viewTag(view)).send(view);
    },
  );

  app.patch(
    '/jobs/:jobId',
    {
      schema: {
        operationId: 'changeJob',
        summary: 'Change a booking; what no longer fits is refused and nothing changes',
        tags,
        params: OfJob,
        headers: IfMatch,
        body: ChangeBody,
        response: {
          200: JobViewReply,
          ...problemReplies(
            'not-found',
            ...changes,
            'refused',
            'nothing-fits',
            'busy',
            'malformed-json',
            'unsupported-media-type',
          ),
        },
      },
    },
    async (request, reply) => {
      const target = await jobToChange(deps, request, request.params);
      const view = await change(deps.shop, { ...target, change: request.body });
      return reply.header('etag', viewTag(view)).send(view);
    },
  );

  app.post(
    '/jobs/:jobId/confirm',
    {
      schema: {
        operationId: 'confirmJob',
        summary: 'Turn a hold into a booking with a promise',
        tags,
        params: OfJob,
        headers: IfMatch.extend(IdempotencyKey.shape),
        response: { 200: JobViewReply, ...problemReplies(...creates, ...changes, 'slot-gone', 'busy') },
      },
    },
    async (request, reply) => {
      const view = await confirm(deps.shop, await jobToChange(deps, request, request.params));
      return reply.header('etag', viewTag(view)).send(view);
    },
  );

  const closings = [
    { path: 'cancel', operationId: 'cancelJob', summary: 'Cancel a held or booked job; its slot is free', act: cancel },
    { path: 'no-show', operationId: 'closeNoShow', summary: 'The car never came; its slot is free', act: noShow },
  ] as const;
  for (const { path, operationId, summary, act } of closings) {
    app.post(
      `/jobs/:jobId/${path}`,
      {
        schema: {
          operationId,
          summary,
          tags,
          params: OfJob,
          headers: IfMatch.extend(IdempotencyKey.shape),
          body: NoteBody,
          response: { 200: JobViewReply, ...problemReplies(...creates, ...changes) },
        },
      },
      async (request, reply) => {
        const target = await jobToChange(deps, request, request.params);
        const view = await act(deps.shop, { ...target, note: request.body.note });
        return reply.header('etag', viewTag(view)).send(view);
      },
    );
  }
}
