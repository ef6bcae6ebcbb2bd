import { useNow } from '../parts/use-now.ts';
import { clockTime, stopwatch } from '../time/format.ts';
import { floorWords } from '../words/floor.ts';

const MINUTE_MS = 60_000;
const SOON_MS = 15 * MINUTE_MS;
const FUSE_MS = 60 * MINUTE_MS;

/** A window that is running out: how long is left, in figures and as a fuse, and when it closes. */
export function WindowClock({ closesAt, zone }: { closesAt: string; zone: string }) {
  const now = useNow(1_000);
  const left = Date.parse(closesAt) - now;
  const look = left < 0 ? 'gone' : left < SOON_MS ? 'soon' : '';
  return (
    <div class={`countdown ${look}`} role="timer">
      <span class="left">
        {left < 0 ? '▲ ' : ''}
        {stopwatch(Math.abs(left) / 1_000)}
      </span>
      <span>
        {left < 0 ? floorWords.gone : floorWords.left}
        <br />
        {floorWords.window} {clockTime(zone, closesAt)}
      </span>
      <span class="fuse" aria-hidden="true">
        <span style={{ width: `${Math.min(100, Math.max(0, (100 * left) / FUSE_MS))}%` }} />
      </span>
    </div>
  );
}
