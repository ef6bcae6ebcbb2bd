import ical from 'ical-generator';
import type { CalendarFeed } from '../../shop/feeds/calendar-feed.ts';

/** A feed as iCalendar. Times are in UTC, which needs no zone rules in the file; the calendar shows its reader's own. */
export function asCalendar(feed: CalendarFeed, shopId: string): string {
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
