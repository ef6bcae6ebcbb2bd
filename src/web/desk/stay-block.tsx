import type { Job, PlannedOperation, TimelineStay } from '../../api/replies.ts';
import { Plate, plateOf } from '../parts/plate.tsx';
import { clockTime, dayAndTime, weekdayOf } from '../time/format.ts';
import { deskWords } from '../words/desk.ts';
import { words } from '../words.ts';
import { type Caption, captionsOf, LINE_PX, stretchesOf } from './captions.ts';
import type { DayRange } from './day-range.ts';

const PLATE_PX = 19;
/** Below the heads of the columns, which stay in view. */
const NAME_STICKS_PX = 55;

interface StayBlockProps {
  readonly stay: TimelineStay;
  readonly job: Job | undefined;
  readonly risky: boolean;
  readonly range: DayRange;
  readonly pixelsPerMs: number;
  readonly zone: string;
  readonly now: number;
  readonly narrow: boolean;
  readonly chosen: boolean;
  /** Something about it was decided at the desk. */
  readonly decided: boolean;
  readonly onGrab: (event: PointerEvent) => void;
  readonly onKey: (event: KeyboardEvent) => void;
  readonly onChoose: (jobId: string) => void;
}

/** A car's unbroken time in one place: what is done to it, what it waits for, and whether it stood or stands there overnight. */
export function StayBlock(props: StayBlockProps) {
  const { stay, job, risky, range, pixelsPerMs, zone, now, narrow, chosen, decided, onGrab, onKey, onChoose } = props;
  const from = Math.max(range.from, Date.parse(stay.from));
  const to = Math.min(range.to, Date.parse(stay.to));
  if (to <= from) return null;
  const height = (to - from) * pixelsPerMs;
  const stretches = stretchesOf(stay.operations, { from, to }, pixelsPerMs, now, words.doing.wait);
  const goesBack = Date.parse(stay.from) < range.from;
  const goesOn = Date.parse(stay.to) > range.to;
  const [first] = stretches;
  const under = narrow || first === undefined || (first.top < PLATE_PX && first.height >= PLATE_PX + 2 * LINE_PX);
  const ends = under ? height - (goesOn ? 16 : 0) : height;
  const captions = captionsOf(stretches, ends, under ? PLATE_PX + (goesBack ? 15 : 0) : goesBack ? 15 : 0);
  const y = (at: string) => (Math.min(Math.max(Date.parse(at), from), to) - from) * pixelsPerMs;
  return (
    <button
      type="button"
      class={`stay wait ${job?.state === 'held' ? 'held' : ''} ${goesBack ? 'goesBack' : ''} ${goesOn ? 'goesOn' : ''}`}
      style={{ top: `${(from - range.from) * pixelsPerMs}px`, height: `${height}px` }}
      aria-pressed={chosen}
      title={titleOf(stay, zone)}
      onPointerDown={onGrab}
      onKeyDown={onKey}
      onClick={() => onChoose(stay.jobId)}
    >
      <span class="visually-hidden">
        {titleOf(stay, zone)}
        {decided ? `\n${deskWords.wishes.kept}` : ''}
      </span>
      <span aria-hidden="true" class="within">
        <span class="name" style={{ top: `${NAME_STICKS_PX}px`, marginTop: goesBack ? '15px' : '0' }}>
          {decided ? <span class="nail" /> : null}
          <Plate text={plateOf(job, stay.car)} risk={risky} />
        </span>
        {stretches.map((stretch) => (
          <span
            key={stretch.from + stretch.label}
            class={`${stretch.operation ? 'band' : ''} ${stretch.operation ? stretch.doing : ''} ${stretch.state}`}
            style={{ top: `${stretch.top}px`, height: `${stretch.height}px` }}
          />
        ))}
        {stay.operations.map((operation) =>
          operation.windowClosesAt && operation.state === 'planned' ? (
            <span
              key={operation.operation}
              class="fuseline"
              style={{
                top: `${y(operation.start)}px`,
                height: `${Math.max(0, y(operation.windowClosesAt) - y(operation.start))}px`,
              }}
            />
          ) : null,
        )}
        {goesBack ? (
          <span class="caption" style={{ top: '1px' }}>
            <span class="line faint">{clipped('since', stay.from, zone, narrow)}</span>
          </span>
        ) : null}
        {captions.map((caption) => (
          <CaptionLines
            key={caption.top}
            caption={caption}
            zone={zone}
            until={narrow ? words.sheet.to : words.sheet.until}
            beside={!under && caption.top < PLATE_PX}
          />
        ))}
        {stretches.length === 0 && height >= 34 + (goesBack ? 15 : 0) ? (
          <span class="caption" style={{ top: `${PLATE_PX + (goesBack ? 15 : 0)}px` }}>
            <span class="line faint">{job ? describeCar(job, stay.car) : stay.car}</span>
          </span>
        ) : null}
        {goesOn && height > 40 ? (
          <span class="caption" style={{ bottom: '1px' }}>
            <span class="line faint">{clipped('until', stay.to, zone, narrow)}</span>
          </span>
        ) : null}
      </span>
    </button>
  );
}

interface CaptionLinesProps {
  readonly caption: Caption;
  readonly zone: string;
  /** The word before an hour at which something ends. */
  readonly until: string;
  readonly beside: boolean;
}

function CaptionLines({ caption, zone, until, beside }: CaptionLinesProps) {
  const [first] = caption.of;
  if (first === undefined) return null;
  const mixed = caption.of.length > 1;
  const plain = mixed ? '' : first.state;
  return (
    <span
      class={`caption ${first.doing === 'work' ? plain : first.state === 'finished' ? 'finished' : ''} ${beside ? 'beside' : ''}`}
      style={{ top: `${caption.top}px`, height: `${caption.height}px` }}
    >
      <span class="line">
        {first.state === 'finished' && !mixed ? '✓ ' : ''}
        {caption.of.map((each) => each.label).join(' · ')}
        {!caption.twoLines && first.doing === 'wait' ? ` ${until} ${clockTime(zone, first.until)}` : ''}
      </span>
      {caption.twoLines ? <span class="line faint">{hoursOf(first, zone, until)}</span> : null}
    </span>
  );
}

function hoursOf(stretch: Caption['of'][number], zone: string, until: string): string {
  const word = stretch.doing === 'still' ? `${words.doing.still} ` : '';
  if (stretch.doing !== 'work' || stretch.state === 'underWay')
    return `${word}${until} ${clockTime(zone, stretch.until)}`;
  return `${clockTime(zone, stretch.from)}–${clockTime(zone, stretch.until)}`;
}

/** The end of a stay that lies on another day; in a narrow column the day alone. */
function clipped(which: 'since' | 'until', at: string, zone: string, narrow: boolean): string {
  const arrow = which === 'since' ? '↑' : '↓';
  if (narrow) return `${arrow} ${weekdayOf(zone, at)}`;
  const word = which === 'since' ? words.sheet.comesFromBefore : words.sheet.staysUntil;
  return `${arrow} ${word} ${dayAndTime(zone, at)}`;
}

const describeCar = (job: Job, car: string) =>
  job.vehicle.description || `${job.vehicle.colour} ${job.vehicle.class}`.trim() || car;

function titleOf(stay: TimelineStay, zone: string): string {
  const work = stay.operations.map((each: PlannedOperation) => `${clockTime(zone, each.start)} ${each.label}`);
  return [stay.car, `${dayAndTime(zone, stay.from)} – ${dayAndTime(zone, stay.to)}`, ...work].join('\n');
}
