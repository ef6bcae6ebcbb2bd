import type { QueueItem } from '../../api/replies.ts';
import { doingOf } from '../parts/doing.ts';
import { Plate } from '../parts/plate.tsx';
import { clockTime } from '../time/format.ts';
import { floorWords } from '../words/floor.ts';

const text = floorWords;

export const nameOf = ({ jobId, operation }: Pick<QueueItem, 'jobId' | 'operation'>) => `${jobId} ${operation}`;

interface DayLineProps {
  readonly items: readonly QueueItem[];
  /** The operation in front, by name. */
  readonly front: string | null;
  readonly zone: string;
  readonly onPick: (item: QueueItem) => void;
}

/** The day of one person as a strip: now, next, later, done. A touch puts an operation in front. */
export function DayLine({ items, front, zone, onPick }: DayLineProps) {
  const of = (when: QueueItem['when']) => items.filter((item) => item.when === when);
  const [next] = of('next');
  return (
    <div class="dayline">
      {(['now', 'next', 'later', 'done'] as const).map((when) => {
        const those = of(when);
        const idle = when === 'now' && those.length === 0 && next;
        if (those.length === 0 && !idle) return null;
        return (
          <section key={when} aria-label={text[when]}>
            <h2>{text[when]}</h2>
            {idle ? <p class="quiet">{text.nothingNow(clockTime(zone, next.planned.start))}</p> : null}
            <ol>
              {those.map((item) => (
                <li key={nameOf(item)}>
                  <button type="button" aria-current={nameOf(item) === front} onClick={() => onPick(item)}>
                    <span class={`doing ${doingOf(item.planned)} ${item.planned.state}`} aria-hidden="true" />
                    <span class="hours">
                      {when === 'done' ? '✓ ' : ''}
                      {clockTime(zone, item.planned.start)}–{clockTime(zone, item.planned.end)}
                    </span>
                    <strong>{item.planned.label}</strong>
                    <span class="where">
                      <Plate text={item.registration || item.car} />
                      <span>{item.placeName}</span>
                    </span>
                    {item.windowClosesAt && item.planned.state === 'planned' ? (
                      <span class="mark soon">
                        {text.window} {clockTime(zone, item.windowClosesAt)}
                      </span>
                    ) : null}
                  </button>
                </li>
              ))}
            </ol>
          </section>
        );
      })}
    </div>
  );
}
