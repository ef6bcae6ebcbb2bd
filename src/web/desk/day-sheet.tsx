import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Job, Place, TimelineReply } from '../../api/replies.ts';
import { doingOf } from '../parts/doing.ts';
import { Plate, plateOf } from '../parts/plate.tsx';
import { useNow } from '../parts/use-now.ts';
import { clockTime } from '../time/format.ts';
import { deskWords } from '../words/desk.ts';
import { words } from '../words.ts';
import { type Carried, type Carry, type Dropped, useCarry } from './carry.ts';
import { type DayRange, dayRange } from './day-range.ts';
import { joinRests } from './join-rests.ts';
import { liftableStay, liftableWork } from './liftable.ts';
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
  /** A car or work was let go elsewhere. */
  readonly onDrop: (dropped: Dropped) => void;
}

/** A day, a column for each place (or person), the hours running down. */
export function DaySheet(props: DaySheetProps) {
  const { zone, by } = props;
  const timeline = useMemo(() => joined(props.timeline), [props.timeline]);
  const now = useNow(30_000);
  const range = dayRange(timeline);
  const height = `${(range.to - range.from) * PIXELS_PER_MS}px`;
  const box = useRef<HTMLElement>(null);
  const { date } = timeline;
  const columns =
    by === 'place' ? timeline.places.map((each) => each.placeId) : timeline.people.map((each) => each.technicianId);
  const carry = useCarry({ ...range, pixelsPerMs: PIXELS_PER_MS, columns }, props.onDrop);
  useEffect(() => {
    const at = Date.now();
    const today = at >= range.from && at < range.to;
    box.current?.scrollTo({ top: today ? Math.max(0, (at - range.from) * PIXELS_PER_MS - 1.5 * PIXELS_AN_HOUR) : 0 });
  }, [date]);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="sheet" aria-label={by === 'place' ? words.sheet.title : words.sheet.people} tabIndex={0} ref={box}>
      <div class={`grid ${carry.carried ? 'carrying' : ''}`}>
        <Ruler range={range} zone={zone} height={height} now={now} />
        {by === 'place'
          ? timeline.places.map((place) => (
              <PlaceColumn
                key={place.placeId}
                {...props}
                place={place}
                range={range}
                height={height}
                now={now}
                carry={carry}
              />
            ))
          : timeline.people.map((person) => (
              <PersonColumn
                key={person.technicianId}
                {...props}
                person={person}
                range={range}
                height={height}
                now={now}
                carry={carry}
              />
            ))}
      </div>
      <div class="visually-hidden" role="status">
        {carry.carried ? saying(carry.carried, timeline, zone) : ''}
      </div>
    </section>
  );
}

/** Interrupted work is one on the sheet. */
function joined(timeline: TimelineReply): TimelineReply {
  return {
    ...timeline,
    places: timeline.places.map((place) => ({
      ...place,
      stays: place.stays.map((stay) => ({ ...stay, operations: joinRests(stay.operations) })),
    })),
    people: timeline.people.map((person) => ({ ...person, operations: joinRests(person.operations) })),
  };
}

function saying({ plate, toColumn, toAt }: Carried, timeline: TimelineReply, zone: string): string {
  const place = timeline.places.find((each) => each.placeId === toColumn)?.name;
  const person = timeline.people.find((each) => each.technicianId === toColumn)?.name;
  return deskWords.whatIf.carried(plate, place ?? person ?? '', clockTime(zone, toAt));
}

/** Where what is carried would come to lie. */
function Ghost({ carry, column, range, zone }: { carry: Carry; column: string; range: DayRange; zone: string }) {
  const { carried } = carry;
  if (carried === null || carried.toColumn !== column) return null;
  return (
    <div
      class="ghost"
      style={{
        top: `${(carried.toAt - range.from) * PIXELS_PER_MS}px`,
        height: `${Math.max(26, (carried.until - carried.at) * PIXELS_PER_MS)}px`,
      }}
    >
      <span>
        {clockTime(zone, carried.toAt)} <Plate text={carried.plate} />
      </span>
    </div>
  );
}

type Column = DaySheetProps & {
  readonly range: DayRange;
  readonly height: string;
  readonly now: number;
  readonly carry: Carry;
};

function PlaceColumn({ place, ...column }: Column & { place: TimelineReply['places'][number] }) {
  const { range, height, now, places, jobs, risky, zone, chosen, onChoose, carry } = column;
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
      <div
        class="track ruled"
        data-column={place.placeId}
        style={{
          height,
          '--hour': `${PIXELS_AN_HOUR}px`,
          '--first': `${((range.hours[0] ?? range.from) - range.from) * PIXELS_PER_MS}px`,
        }}
      >
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
        {place.stays.map((stay) => {
          const job = jobs.get(stay.jobId);
          const item = liftableStay(stay, place.placeId, plateOf(job, stay.car), now);
          const here = new Set<string>(stay.operations.map((each) => each.operation));
          return (
            <StayBlock
              key={`${stay.jobId}${stay.from}`}
              stay={stay}
              job={job}
              risky={risky.has(stay.jobId)}
              range={range}
              pixelsPerMs={PIXELS_PER_MS}
              zone={zone}
              now={now}
              narrow={place.kind === 'parking'}
              chosen={chosen === stay.jobId}
              decided={job?.wishes?.some((wish) => here.has(wish.operation)) ?? false}
              onGrab={carry.grab(item)}
              onKey={carry.press(item)}
              onChoose={(jobId) => carry.swallowClick() || onChoose(jobId)}
            />
          );
        })}
        <Ghost carry={carry} column={place.placeId} range={range} zone={zone} />
        <NowLine range={range} now={now} zone={zone} named={false} />
      </div>
    </div>
  );
}

function PersonColumn({ person, ...column }: Column & { person: TimelineReply['people'][number] }) {
  const { range, height, now, jobs, risky, zone, chosen, onChoose, carry } = column;
  const spot = (from: number, to: number) => ({
    top: `${(Math.max(from, range.from) - range.from) * PIXELS_PER_MS}px`,
    height: `${(Math.min(to, range.to) - Math.max(from, range.from)) * PIXELS_PER_MS}px`,
  });
  return (
    <div class="column">
      <h3 class="head">{person.name}</h3>
      <div class="track person-track" data-column={person.technicianId} style={{ height }}>
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
              const item = liftableWork(operation, person.technicianId, plate);
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
                  onPointerDown={item ? carry.grab(item) : undefined}
                  onKeyDown={item ? carry.press(item) : undefined}
                  onClick={() => carry.swallowClick() || onChoose(operation.jobId)}
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
        <Ghost carry={carry} column={person.technicianId} range={range} zone={zone} />
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
