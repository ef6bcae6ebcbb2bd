import ical from 'ical-generator';
import { z } from 'zod';
import { type CalendarFeed, calendarFeed } from '../../../shop/feeds/calendar-feed.ts';
import { JobId, PlaceId, ShopId, TechnicianId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { problemReplies } from '../../wire/problem-replies.ts';

const calendarReply = {
  description: 'iCalendar (RFC 5545)',
  content: { 'text/calendar': { schema: z.string() } },
};

/** Calendars to subscribe to, of a place, a person and a job. */
export function calendarRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['calendars'];
  const response = { 200: calendarReply, ...problemReplies('not-found') };

  app.get(
    '/calendars/places/:placeId.ics',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getPlaceCalendar',
        summary: 'Which car stands in a bay or parking place, when',
        tags,
        params: z.object({ shopId: ShopId, placeId: PlaceId }),
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
      config: { needs: 'see' },
      schema: {
        operationId: 'getTechnicianCalendar',
        summary: "A technician's planned work",
        tags,
        params: z.object({ shopId: ShopId, technicianId: TechnicianId }),
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
      config: { needs: 'see' },
      schema: {
        operationId: 'getJobCalendar',
        summary: "A job's drop-off and pickup",
        tags,
        params: z.object({ shopId: ShopId, jobId: JobId }),
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

/** Times are written in UTC, which needs no zone rules in the file; the calendar shows its reader's own. */
function asCalendar(feed: CalendarFeed, shopId: string): string {
  const calendar = ical({
    name: feed.name,
    prodId: { company: 'Panelday', product: 'Panelday', language: 'EN' },
    ttl: 15 * 60,
  });
  for (const entry of feed.entries) {
    calendar.createEvent({
      id: `${entry.uid}@${shopId}.panelday.invalid`,
      stamp: new Date(feed.asOf),
      sequence: feed.planVersion,
      start: new Date(entry.from),
      end: new Date(entry.to),
      summary: entry.summary,
      ...(entry.location === '' ? {} : { location: entry.location }),
    });
  }
  // Every content line ends with CRLF, the last one too (RFC 5545, 3.1).
  return `${calendar.toString().trimEnd()}\r\n`;
}
