import type { Place, Shop, TimelineReply } from '../../api/replies.ts';
import { clockTime, duration, instantAt, localClockOf, localDateOf } from '../time/format.ts';
import { deskWords } from '../words/desk.ts';
import type { BookingDraft } from './booking-draft.ts';
import { hoursOf } from './opening.ts';

const text = deskWords.gaps;
const LEAST_MS = 60 * 60_000;

export interface Gap {
  readonly placeId: string;
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** Stretches of an hour at least, from now to closing time, in which a bay is empty and not in turnaround. */
export function gapsOf(timeline: TimelineReply, places: readonly Place[], shop: Shop, now: number): Gap[] {
  const hours = hoursOf(shop, timeline.date);
  const edge = (clock: string) => Date.parse(instantAt(shop.timeZone, timeline.date, clock));
  if (hours.length === 0) return [];
  const opens = Math.max(now, Math.min(...hours.map((each) => edge(each.from))));
  const closes = Math.max(...hours.map((each) => edge(each.to)));
  return timeline.places
    .filter((place) => place.kind === 'bay')
    .flatMap((place) => {
      const turnaround = (places.find((each) => each.id === place.placeId)?.turnaroundMinutes ?? 0) * 60_000;
      const gaps: Gap[] = [];
      let free = opens;
      const until = (to: number) => {
        if (to - free >= LEAST_MS) gaps.push({ placeId: place.placeId, name: place.name, from: free, to });
      };
      for (const stay of [...place.stays].sort((a, b) => Date.parse(a.from) - Date.parse(b.from))) {
        until(Math.min(closes, Date.parse(stay.from) - turnaround));
        free = Math.max(free, Date.parse(stay.to) + turnaround);
      }
      until(closes);
      return gaps;
    });
}

/** Room left in the bays today, for a walk-in or a short visit. */
export function Gaps({
  today,
  places,
  now,
  shop,
  onFill,
}: {
  today: TimelineReply;
  places: readonly Place[];
  now: number;
  shop: Shop;
  onFill: (draft: Partial<BookingDraft>) => void;
}) {
  const gaps = gapsOf(today, places, shop, now);
  const zone = shop.timeZone;
  return (
    <section class="panel no-print" aria-labelledby="gaps">
      <h2 id="gaps">{text.title}</h2>
      <p class="quiet">{gaps.length === 0 ? text.none : text.meaning}</p>
      <ul class="plain gaps">
        {gaps.map((gap) => (
          <li key={gap.placeId + gap.from}>
            <span>
              <strong>{gap.name.split(',')[0]}</strong>{' '}
              {text.gap(clockTime(zone, gap.from), clockTime(zone, gap.to), duration((gap.to - gap.from) / 60_000))}
            </span>
            <button
              type="button"
              onClick={() =>
                onFill({ earliestDay: localDateOf(zone, gap.from), earliestTime: localClockOf(zone, gap.from) })
              }
            >
              {text.fill} <span class="visually-hidden">{gap.name}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
