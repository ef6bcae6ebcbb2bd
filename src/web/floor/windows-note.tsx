import type { QueueItem } from '../../api/replies.ts';
import { Plate } from '../parts/plate.tsx';
import { useNow } from '../parts/use-now.ts';
import { stopwatch } from '../time/format.ts';
import { floorWords } from '../words/floor.ts';
import { nameOf } from './day-line.tsx';
import { withWindow } from './window-alarms.ts';

const SOON_MS = 15 * 60_000;

/** Windows about to close of work that is not in front: each a touch away. */
export function WindowsNote({
  items,
  front,
  onPick,
}: {
  items: readonly QueueItem[];
  front: string | null;
  onPick: (item: QueueItem) => void;
}) {
  const now = useNow(1_000);
  const soon = withWindow(items)
    .map((item) => ({ item, left: Date.parse(item.windowClosesAt) - now }))
    .filter(({ item, left }) => left < SOON_MS && nameOf(item) !== front);
  return soon.map(({ item, left }) => (
    <button
      type="button"
      class={`windownote ${left < 0 ? 'gone' : ''}`}
      key={nameOf(item)}
      onClick={() => onPick(item)}
    >
      <span class="left" role="timer">
        {left < 0 ? '▲ ' : ''}
        {stopwatch(Math.abs(left) / 1_000)}
      </span>
      <span>
        {left < 0 ? floorWords.gone : floorWords.left}: {item.planned.label}{' '}
        <Plate text={item.registration || item.car} />
      </span>
    </button>
  ));
}
