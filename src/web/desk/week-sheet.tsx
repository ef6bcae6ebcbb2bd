import { useEffect, useRef } from 'preact/hooks';
import type { Job, Place, Plan, Shop } from '../../api/replies.ts';
import { doingOf, stateOf } from '../parts/doing.ts';
import { Plate, plateOf } from '../parts/plate.tsx';
import { useNow } from '../parts/use-now.ts';
import { dayAndTime, daysAfter, instantAt, localDateOf, mondayOf, shortDay } from '../time/format.ts';
import { words } from '../words.ts';
import { hoursOf, weekdays } from './opening.ts';

interface WeekSheetProps {
  readonly shop: Shop;
  readonly plan: Plan;
  readonly places: readonly Place[];
  readonly jobs: ReadonlyMap<string, Job>;
  readonly risky: ReadonlySet<string>;
  /** Any day of the week shown, YYYY-MM-DD. */
  readonly day: string;
  readonly chosen: string | null;
  readonly onChoose: (jobId: string) => void;
  readonly onDay: (day: string) => void;
}

/** A week by place: which car stands where on which day, what is done to it, and where room is. */
export function WeekSheet(props: WeekSheetProps) {
  const { shop, places, day, onDay } = props;
  const now = useNow(60_000);
  const zone = shop.timeZone;
  const monday = mondayOf(day);
  const days = [0, 1, 2, 3, 4, 5, 6].map((each) => daysAfter(monday, each));
  const [opens, closes] = span(shop);
  const today = localDateOf(zone, now);
  const box = useRef<HTMLElement>(null);
  // Where a week is wider than the screen, its first days are behind: what is shown begins with today.
  useEffect(() => {
    const at = box.current?.querySelector<HTMLElement>('th.today');
    const names = box.current?.querySelector<HTMLElement>('thead th');
    if (at && names) box.current?.scrollTo({ left: at.offsetLeft - names.offsetWidth });
  }, [monday]);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="weeksheet" aria-label={words.sheet.week} tabIndex={0} ref={box}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.sheet.place}</th>
            {days.map((each) => (
              <th scope="col" key={each} class={each === today ? 'today' : ''}>
                <button type="button" class="plain" onClick={() => onDay(each)}>
                  {shortDay(each)}
                </button>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {places.map((place) => (
            <tr key={place.id} class={place.kind}>
              <th scope="row">{place.name.split('(')[0]}</th>
              {days.map((each) => (
                <td key={each}>
                  <Cell
                    {...props}
                    place={place}
                    from={Date.parse(instantAt(zone, each, opens))}
                    to={Date.parse(instantAt(zone, each, closes))}
                    off={hoursOf(shop, each).length === 0}
                    now={now}
                  />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Cell({
  plan,
  place,
  jobs,
  risky,
  from,
  to,
  off,
  now,
  shop,
  chosen,
  onChoose,
}: WeekSheetProps & { place: Place; from: number; to: number; off: boolean; now: number }) {
  const stays = plan.stays.filter(
    (stay) => stay.placeId === place.id && Date.parse(stay.from) < to && Date.parse(stay.to) > from,
  );
  const x = (at: string | number) =>
    (100 * (Math.min(Math.max(new Date(at).getTime(), from), to) - from)) / (to - from);
  return (
    <div class={`cell ${off ? 'off' : ''}`}>
      {stays.map((stay) => {
        const left = x(stay.from);
        const width = x(stay.to) - left;
        const job = jobs.get(stay.jobId);
        const inStay = (at: string) => (100 * (x(at) - left)) / width;
        const name = plateOf(job, stay.jobId.slice(0, 4));
        const told = `${name} · ${dayAndTime(shop.timeZone, stay.from)} – ${dayAndTime(shop.timeZone, stay.to)}`;
        return (
          <button
            type="button"
            key={stay.jobId + stay.from}
            class={`stay wait ${Date.parse(stay.from) < from ? 'goesBack' : ''} ${Date.parse(stay.to) > to ? 'goesOn' : ''}`}
            style={{ left: `${left}%`, width: `${width}%` }}
            aria-pressed={chosen === stay.jobId}
            title={told}
            onClick={() => onChoose(stay.jobId)}
          >
            <span class="visually-hidden">{told}</span>
            <span aria-hidden="true" class="within">
              {plan.operations
                .filter((each) => each.jobId === stay.jobId && touches(each, stay, from, to))
                .map((each) => (
                  <span
                    key={each.operation}
                    class={`band ${doingOf(each)} ${stateOf(each, now)}`}
                    style={{ left: `${inStay(each.start)}%`, width: `${inStay(each.end) - inStay(each.start)}%` }}
                  />
                ))}
              <span class="name">
                <Plate text={name} risk={risky.has(stay.jobId)} />
              </span>
            </span>
          </button>
        );
      })}
      {now > from && now < to ? <div class="now" style={{ left: `${x(now)}%` }} /> : null}
    </div>
  );
}

function touches(work: { start: string; end: string }, stay: Plan['stays'][number], from: number, to: number): boolean {
  const begin = Math.max(from, Date.parse(stay.from));
  const end = Math.min(to, Date.parse(stay.to));
  return Date.parse(work.start) < end && Date.parse(work.end) > begin;
}

/** The earliest opening and the latest closing of the week, as clock times. */
function span(shop: Shop): [string, string] {
  const all = weekdays.flatMap((each) => shop.hours[each] ?? []);
  const opens = all.map((each) => each.from).sort()[0] ?? '08:00';
  const closes =
    all
      .map((each) => each.to)
      .sort()
      .at(-1) ?? '18:00';
  return [opens, closes];
}
