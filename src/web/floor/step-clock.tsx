import { useMemo, useState } from 'preact/hooks';
import type { QueueItem } from '../../api/replies.ts';
import { useNow } from '../parts/use-now.ts';
import { stopwatch } from '../time/format.ts';
import { floorWords } from '../words/floor.ts';
import { useAlarmAt } from './alarm.ts';

const text = floorWords;
const TICK_MS = 500;

type Clock = NonNullable<QueueItem['instructions'][number]['clock']>;

/** A clock of seconds for a dwell or a flash, started by a touch; it runs on through a reload. */
export function StepClock({ clock, kept, alarms }: { clock: Clock; kept: string; alarms: boolean }) {
  const key = `panelday.clock ${kept}`;
  const [since, setSince] = useState<number | null>(Number(localStorage.getItem(key)) || null);
  const now = useNow(TICK_MS);
  const { fromSeconds, toSeconds, label } = clock;
  const moments = useMemo(
    () =>
      since === null
        ? []
        : [
            { at: since + fromSeconds * 1_000, times: 1 },
            { at: since + toSeconds * 1_000, times: 3 },
          ],
    [since, fromSeconds, toSeconds],
  );
  useAlarmAt(alarms, kept, moments, now);
  const run = (from: number | null) => {
    if (from === null) localStorage.removeItem(key);
    else localStorage.setItem(key, String(from));
    setSince(from);
  };
  if (since === null)
    return (
      <div class="stopwatch">
        <button type="button" onClick={() => run(Date.now())}>
          {text.watchStart}
        </button>
        <span>
          {label}: {text.range(fromSeconds, toSeconds)}
        </span>
      </div>
    );
  const seconds = Math.max(0, (now - since) / 1_000);
  const say = seconds < fromSeconds ? text.watchWait : seconds <= toSeconds ? text.watchGo : text.watchOver;
  return (
    <div class="stopwatch">
      <span class="time" role="timer">
        {stopwatch(seconds)}
      </span>
      <span class={`mark ${seconds < fromSeconds ? '' : seconds <= toSeconds ? 'soon' : 'risk'}`}>{say(label)}</span>
      <button type="button" onClick={() => run(null)}>
        {text.watchReset}
      </button>
    </div>
  );
}
