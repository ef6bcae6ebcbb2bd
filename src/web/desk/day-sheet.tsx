import { useEffect, useRef } from 'preact/hooks';
import type { Job, Place, TimelineReply } from '../../api/replies.ts';
import { doingOf } from '../parts/doing.ts';
import { Plate, plateOf } from '../parts/plate.tsx';
import { useNow } from '../parts/use-now.ts';
import { clockTime } from '../time/format.ts';
import { words } from '../words.ts';
import { type DayRange, dayRange } from './day-range.ts';
import { StayBlock } from './stay-block.tsx';

const PIXELS_AN_HOUR = 78;
const PIXELS_PER_MS = PIXELS_AN_HOUR / 3_600_000;

interface DaySheetProps {
  readonly timeline: TimelineReply;
  readonly places: readonly Place[];
  readonly jobs: ReadonlyMap<string, Job>;
  readonly risky: ReadonlySet<string>;
  readonly zone: string;
  readonly by: 'place' | 'person';
  readonly chosen: string | null;
  readonly onChoose: (jobId: string) => void;
}

/** A day, a column for each place (or person), the hours running down. */
export function DaySheet(props: DaySheetProps) {
  const { timeline, zone, by } = props;
  const now = useNow(30_000);
  const range = dayRange(timeline);
  const height = `${(range.to - range.from) * PIXELS_PER_MS}px`;
  const box = useRef<HTMLElement>(null);
  const { date } = timeline;
  useEffect(() => {
    const at = Date.now();
    const today = at >= range.from && at < range.to;
    box.current?.scrollTo({ top: today ? Math.max(0, (at - range.from) * PIXELS_PER_MS - 1.5 * PIXELS_AN_HOUR) : 0 });
  }, [date]);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="sheet" aria-label={by === 'place' ? words.sheet.title : words.sheet.people} tabIndex={0} ref={box}>
      <div class="grid">
        <Ruler range={range} zone={zone} height={height} now={now} />
        {by === 'place'
          ? timeline.places.map((place) => (
              <PlaceColumn key={place.placeId} {...props} place={place} range={range} height={height} now={now} />
            ))
          : timeline.people.map((person) => (
              <PersonColumn
                key={person.technicianId}
                {...props}
                person={person}
                range={range}
                height={height}
                now={now}
              />
            ))}
      </div>
    </section>
  );
}

type Column = DaySheetProps & { readonly range: DayRange; readonly height: string; readonly now: number };

function PlaceColumn({ place, ...column }: Column & { place: TimelineReply['places'][number] }) {
  const { range, height, now, places, jobs, risky, zone, chosen, onChoose } = column;
  const turnaroundMs = (places.find((each) => each.id === place.placeId)?.turnaroundMinutes ?? 0) * 60_000;
  const [name = '', ...rest] = place.name.split(',');
  const [short = name, aside = ''] = name.split('(');
  return (
    <div class={`column ${place.kind}`}>
      <h3 class="head">
        {short}
        <small>
          {[...rest, aside.replace(')', '')]
            .map((each) => each.trim())
            .filter(Boolean)
            .join(', ')}
        </small>
      </h3>
      <div class="track" style={{ height }}>
        <HourLines range={range} />
        {place.stays.map((stay) => {
          const ends = Date.parse(stay.to);
          const shut = place.kind === 'bay' && turnaroundMs > 0 && ends < range.to && ends > range.from;
          return shut ? (
            <div
              key={`after ${stay.jobId}${stay.from}`}
              class="turnaround shut"
              title={words.doing.shut}
              style={{
                top: `${(ends - range.from) * PIXELS_PER_MS}px`,
                height: `${Math.min(turnaroundMs, range.to - ends) * PIXELS_PER_MS}px`,
              }}
            />
          ) : null;
        })}
        {place.stays.map((stay) => (
          <StayBlock
            key={`${stay.jobId}${stay.from}`}
            stay={stay}
            job={jobs.get(stay.jobId)}
            risky={risky.has(stay.jobId)}
            range={range}
            pixelsPerMs={PIXELS_PER_MS}
            zone={zone}
            now={now}
            narrow={place.kind === 'parking'}
            chosen={chosen === stay.jobId}
            onChoose={onChoose}
          />
        ))}
        <NowLine range={range} now={now} zone={zone} named={false} />
      </div>
    </div>
  );
}

function PersonColumn({ person, ...column }: Column & { person: TimelineReply['people'][number] }) {
  const { range, height, now, jobs, risky, zone, chosen, onChoose } = column;
  const spot = (from: number, to: number) => ({
    top: `${(Math.max(from, range.from) - range.from) * PIXELS_PER_MS}px`,
    height: `${(Math.min(to, range.to) - Math.max(from, range.from)) * PIXELS_PER_MS}px`,
  });
  return (
    <div class="column">
      <h3 class="head">{person.name}</h3>
      <div class="track person-track" style={{ height }}>
        {person.hours.map((part) => (
          <div class="shift" key={part.from} style={spot(Date.parse(part.from), Date.parse(part.to))} />
        ))}
        <HourLines range={range} />
        {person.operations.flatMap((operation) =>
          operation.pieces
            .map((piece) => ({ from: Date.parse(piece.from), to: Date.parse(piece.to) }))
            .filter((piece) => piece.to > range.from && piece.from < range.to)
            .map((piece) => {
              const tall = (piece.to - piece.from) * PIXELS_PER_MS;
              const job = jobs.get(operation.jobId);
              const plate = plateOf(job, operation.jobId.slice(0, 4));
              const doing =
                operation.sharePercent < 100 && doingOf(operation) !== 'move' ? 'watched' : doingOf(operation);
              return (
                <button
                  type="button"
                  key={operation.jobId + operation.operation + piece.from}
                  class={`stay ${doing} ${operation.state}`}
                  style={spot(piece.from, piece.to)}
                  aria-pressed={chosen === operation.jobId}
                  title={`${operation.label} · ${plate}\n${clockTime(zone, piece.from)}–${clockTime(zone, piece.to)}`}
                  onClick={() => onChoose(operation.jobId)}
                >
                  <span class="visually-hidden">{`${operation.label} · ${plate} · ${clockTime(zone, piece.from)}`}</span>
                  {tall >= 15 ? (
                    <span aria-hidden="true" class="within">
                      <span class={`caption beside ${doing === 'work' ? operation.state : ''}`}>
                        <span class="line">
                          {operation.state === 'finished' ? '✓ ' : ''}
                          {operation.label}
                        </span>
                        {tall >= 32 ? (
                          <span class="line faint">
                            {clockTime(zone, piece.from)}–{clockTime(zone, piece.to)}
                          </span>
                        ) : null}
                      </span>
                      <span class="name">
                        <Plate text={plate} risk={risky.has(operation.jobId)} />
                      </span>
                    </span>
                  ) : null}
                </button>
              );
            }),
        )}
        <NowLine range={range} now={now} zone={zone} named={false} />
      </div>
    </div>
  );
}

function Ruler({ range, zone, height, now }: { range: DayRange; zone: string; height: string; now: number }) {
  return (
    <div class="column ruler">
      <div class="head" />
      <div class="track" style={{ height }}>
        {range.hours.map((hour) => (
          <div class="hour" key={hour} style={{ top: `${(hour - range.from) * PIXELS_PER_MS}px` }}>
            {clockTime(zone, hour)}
          </div>
        ))}
        <NowLine range={range} now={now} zone={zone} named />
      </div>
    </div>
  );
}

function HourLines({ range }: { range: DayRange }) {
  return (
    <>
      {range.hours.map((hour) => (
        <div class="hour" key={hour} style={{ top: `${(hour - range.from) * PIXELS_PER_MS}px` }} />
      ))}
    </>
  );
}

function NowLine({ range, zone, named, now }: { range: DayRange; zone: string; named: boolean; now: number }) {
  if (now < range.from || now >= range.to) return null;
  return (
    <div class="now" style={{ top: `${(now - range.from) * PIXELS_PER_MS}px` }}>
      {named ? <span>{clockTime(zone, now)}</span> : null}
    </div>
  );
}
