import { book } from '../../../shop/booking/book.ts';
import { hold } from '../../../shop/booking/hold.ts';
import { walkIn } from '../../../shop/booking/walk-in.ts';
import type { JobView } from '../../../shop/jobs/job-view.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey, sendWithEffect } from '../../plugins/idempotency.ts';
import { OfShop } from '../../wire/addresses.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { BookBody, HoldBody, JobViewReply, WalkInBody } from './schemas.ts';
import { viewTag } from './view-tag.ts';

const tags = ['jobs'];

/** Jobs come into the book: booked at once, held, or standing at the door. */
export function jobTakingRoutes(app: Api, deps: ApiDeps): void {
  const taken = { 201: JobViewReply, ...problemReplies(...ofPost, 'refused', 'nothing-fits', 'slot-gone', 'busy') };
  const address = (view: JobView, shopId: string) => `/v1/shops/${shopId}/jobs/${view.job.id}`;
  const made = (shopId: string) => (view: JobView) => ({
    status: 201,
    headers: { location: address(view, shopId), etag: viewTag(view) },
  });

  app.post(
    '/jobs',
    {
      config: { needs: 'book' },
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
      return sendWithEffect(request, reply, made(shopId), (alsoAnswer) =>
        book(deps.shop, { shopId, ...request.body }, alsoAnswer),
      );
    },
  );

  app.post(
    '/holds',
    {
      config: { needs: 'book' },
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
      return sendWithEffect(request, reply, made(shopId), (alsoAnswer) =>
        hold(deps.shop, { shopId, ...request.body }, alsoAnswer),
      );
    },
  );

  app.post(
    '/walk-ins',
    {
      config: { needs: 'book' },
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
}
