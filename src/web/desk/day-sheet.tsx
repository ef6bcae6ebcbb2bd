import type { PlannedOperation, TimelineReply, TimelineStay } from '../../api/replies.ts';
import { doingOf } from '../parts/doing.ts';
import { useNow } from '../parts/use-now.ts';
import { clockTime, dayAndTime } from '../time/format.ts';
import { words } from '../words.ts';
import { type DayRange, dayRange, placeOnSheet } from './day-range.ts';

const PIXELS_AN_HOUR = 64;

interface DaySheetProps {
  readonly timeline: TimelineReply;
  readonly zone: string;
  readonly by: 'place' | 'person';
  readonly chosen: string | null;
  readonly onChoose: (jobId: string) => void;
}

/** A day, a column for each place (or person), the hours running down. */
export function DaySheet({ timeline, zone, by, chosen, onChoose }: DaySheetProps) {
  const range = dayRange(timeline);
  const height = `${((range.to - range.from) / 3_600_000) * PIXELS_AN_HOUR}px`;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="sheet" aria-label={by === 'place' ? words.sheet.title : words.sheet.people} tabIndex={0}>
      <div class="grid">
        <Ruler range={range} zone={zone} height={height} />
        {by === 'place'
          ? timeline.places.map((place) => (
              <div class="column" key={place.placeId}>
                <h3 class="head">{place.name}</h3>
                <div class="track" style={{ height }}>
                  <HourLines range={range} />
                  {place.stays.map((stay) => (
                    <Stay
                      key={`${stay.jobId}${stay.from}`}
                      stay={stay}
                      range={range}
                      zone={zone}
                      chosen={chosen === stay.jobId}
                      onChoose={onChoose}
                    />
                  ))}
                  <NowLine range={range} zone={zone} named={false} />
                </div>
              </div>
            ))
          : timeline.people.map((person) => (
              <div class="column" key={person.technicianId}>
                <h3 class="head">{person.name}</h3>
                <div class="track" style={{ height }}>
                  {person.hours.map((part) => {
                    const spot = placeOnSheet(range, part.from, part.to);
                    return spot ? <div class="shift" key={part.from} style={percent(spot)} /> : null;
                  })}
                  <HourLines range={range} />
                  {person.operations.flatMap((operation) =>
                    operation.pieces.map((piece) => {
                      const spot = placeOnSheet(range, piece.from, piece.to);
                      return spot ? (
                        <button
                          type="button"
                          key={operation.jobId + operation.operation + piece.from}
                          class={`stay ${doingOf(operation)}`}
                          style={percent(spot)}
                          aria-pressed={chosen === operation.jobId}
                          title={describe(operation, zone)}
                          onClick={() => onChoose(operation.jobId)}
                        >
                          <span class="car">{operation.label}</span>
                        </button>
                      ) : null;
                    }),
                  )}
                  <NowLine range={range} zone={zone} named={false} />
                </div>
              </div>
            ))}
      </div>
    </section>
  );
}

function Ruler({ range, zone, height }: { range: DayRange; zone: string; height: string }) {
  return (
    <div class="column ruler">
      <div class="head" />
      <div class="track" style={{ height }}>
        {range.hours.map((hour) => (
          <div class="hour" key={hour} style={{ top: `${at(range, hour)}%` }}>
            {clockTime(zone, hour)}
          </div>
        ))}
        <NowLine range={range} zone={zone} named />
      </div>
    </div>
  );
}

function HourLines({ range }: { range: DayRange }) {
  return (
    <>
      {range.hours.map((hour) => (
        <div class="hour" key={hour} style={{ top: `${at(range, hour)}%` }} />
      ))}
    </>
  );
}

function NowLine({ range, zone, named }: { range: DayRange; zone: string; named: boolean }) {
  const now = useNow(30_000);
  if (now < range.from || now >= range.to) return null;
  return (
    <div class="now" style={{ top: `${at(range, now)}%` }}>
      {named ? (
        <span>
          {words.sheet.now} {clockTime(zone, now)}
        </span>
      ) : null}
    </div>
  );
}

function Stay({
  stay,
  range,
  zone,
  chosen,
  onChoose,
}: {
  stay: TimelineStay;
  range: DayRange;
  zone: string;
  chosen: boolean;
  onChoose: (jobId: string) => void;
}) {
  const spot = placeOnSheet(range, stay.from, stay.to);
  if (spot === null) return null;
  const shownFrom = Math.max(range.from, Date.parse(stay.from));
  const shownTo = Math.min(range.to, Date.parse(stay.to));
  const inside: DayRange = { from: shownFrom, to: shownTo, hours: [] };
  const span = `${dayAndTime(zone, stay.from)} – ${dayAndTime(zone, stay.to)}`;
  return (
    <button
      type="button"
      class="stay wait"
      style={percent(spot)}
      aria-pressed={chosen}
      aria-label={`${stay.car}, ${span}`}
      title={`${stay.car}\n${span}`}
      onClick={() => onChoose(stay.jobId)}
    >
      {stay.operations.map((operation) => {
        const band = placeOnSheet(inside, operation.start, operation.end);
        return band ? (
          <span
            key={operation.operation}
            class={`band ${doingOf(operation)} ${operation.state}`}
            style={percent(band)}
            title={describe(operation, zone)}
          >
            {operation.label}
          </span>
        ) : null;
      })}
      <span class="car">{stay.car}</span>
    </button>
  );
}

const percent = (spot: { top: number; height: number }) => ({ top: `${spot.top}%`, height: `${spot.height}%` });

const at = (range: DayRange, instant: number) => (100 * (instant - range.from)) / (range.to - range.from);

const describe = (operation: PlannedOperation, zone: string) =>
  `${operation.label} · ${words.doing[doingOf(operation)]}\n${dayAndTime(zone, operation.start)} – ${dayAndTime(zone, operation.end)}`;
