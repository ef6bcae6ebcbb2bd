import { z } from 'zod';
import { calendarFeed } from '../../../shop/feeds/calendar-feed.ts';
import { JobId, PlaceId, ShopId, TechnicianId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { asCalendar } from '../../wire/as-calendar.ts';
import { problemReplies } from '../../wire/problem-replies.ts';

const calendarReply = {
  description: 'iCalendar (RFC 5545)',
  content: { 'text/calendar': { schema: z.string() } },
};

const Subscription = z.object({
  token: z.string().max(200).optional().describe('Of a program that may `see`, for one that can send no header.'),
});

/** Calendars to subscribe to, of a place, a person and a job. */
export function calendarRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['calendars'];
  const response = { 200: calendarReply, ...problemReplies('not-found') };

  app.get(
    '/calendars/places/:placeId.ics',
    {
      config: { needs: 'see', tokenInAddress: true },
      schema: {
        operationId: 'getPlaceCalendar',
        summary: 'Which car stands in a bay or parking place, when',
        tags,
        params: z.object({ shopId: ShopId, placeId: PlaceId }),
        querystring: Subscription,
        response,
      },
    },
    async (request, reply) => {
      const { shopId, placeId } = request.params;
      const feed = await calendarFeed(deps.shop, { shopId, of: { placeId } });
      return reply.type('text/calendar; charset=utf-8').send(asCalendar(feed, shopId));
    },
  );

  app.get(
    '/calendars/technicians/:technicianId.ics',
    {
      config: { needs: 'see', tokenInAddress: true },
      schema: {
        operationId: 'getTechnicianCalendar',
        summary: "A technician's planned work",
        tags,
        params: z.object({ shopId: ShopId, technicianId: TechnicianId }),
        querystring: Subscription,
        response,
      },
    },
    async (request, reply) => {
      const { shopId, technicianId } = request.params;
      const feed = await calendarFeed(deps.shop, { shopId, of: { technicianId } });
      return reply.type('text/calendar; charset=utf-8').send(asCalendar(feed, shopId));
    },
  );

  app.get(
    '/calendars/jobs/:jobId.ics',
    {
      config: { needs: 'see', tokenInAddress: true },
      schema: {
        operationId: 'getJobCalendar',
        summary: "A job's drop-off and pickup",
        tags,
        params: z.object({ shopId: ShopId, jobId: JobId }),
        querystring: Subscription,
        response,
      },
    },
    async (request, reply) => {
      const { shopId, jobId } = request.params;
      const feed = await calendarFeed(deps.shop, { shopId, of: { jobId } });
      return reply.type('text/calendar; charset=utf-8').send(asCalendar(feed, shopId));
    },
  );
}
