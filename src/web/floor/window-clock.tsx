import { useNow } from '../parts/use-now.ts';
import { clockTime, duration } from '../time/format.ts';
import { words } from '../words.ts';

const SOON_MINUTES = 15;

/** A window that is running out: how long is left, in words and figures, and when it closes. */
export function WindowClock({ closesAt, zone }: { closesAt: string; zone: string }) {
  const left = (Date.parse(closesAt) - useNow(1_000)) / 60_000;
  const look = left < 0 ? 'gone' : left < SOON_MINUTES ? 'soon' : '';
  return (
    <div class={`countdown ${look}`} role="timer">
      {left < 0 ? words.floor.gone : words.floor.left}
      <span class="quiet">
        {' '}
        · {words.floor.window} {clockTime(zone, closesAt)}
      </span>
    </div>
  );
}
