import { change } from '../../../shop/booking/change.ts';
import { cancel, noShow } from '../../../shop/booking/close-without-work.ts';
import { confirm } from '../../../shop/booking/confirm.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfJob } from '../../wire/addresses.ts';
import { IfMatch } from '../../wire/entity-tag.ts';
import { ofPost, ofVersioned, problemReplies } from '../../wire/problem-replies.ts';
import { jobToChange } from './job-to-change.ts';
import { ChangeBody, JobViewReply, NoteBody } from './schemas.ts';
import { viewTag } from './view-tag.ts';

const tags = ['jobs'];

/** Jobs in the book: confirmed, changed, or closed without work. */
export function jobChangingRoutes(app: Api, deps: ApiDeps): void {
  app.patch(
    '/jobs/:jobId',
    {
      config: { needs: 'book' },
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
            ...ofVersioned,
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
      config: { needs: 'book' },
      schema: {
        operationId: 'confirmJob',
        summary: 'Turn a hold into a booking with a promise',
        tags,
        params: OfJob,
        headers: IfMatch.extend(IdempotencyKey.shape),
        response: { 200: JobViewReply, ...problemReplies(...ofPost, ...ofVersioned, 'slot-gone', 'busy') },
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
        config: { needs: 'book' },
        schema: {
          operationId,
          summary,
          tags,
          params: OfJob,
          headers: IfMatch.extend(IdempotencyKey.shape),
          body: NoteBody,
          response: { 200: JobViewReply, ...problemReplies(...ofPost, ...ofVersioned) },
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
