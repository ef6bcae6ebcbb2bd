import { useMemo } from 'preact/hooks';
import type { QueueItem } from '../../api/replies.ts';
import { useNow } from '../parts/use-now.ts';
import { useAlarmAt } from './alarm.ts';

const MINUTE_MS = 60_000;

/** Work whose window runs out: it has not begun, and the plan says until when it must. */
export function withWindow(items: readonly QueueItem[]): (QueueItem & { windowClosesAt: string })[] {
  return items.filter(
    (item): item is QueueItem & { windowClosesAt: string } =>
      item.windowClosesAt !== null && item.planned.state === 'planned',
  );
}

/** Sounds 10 and 3 minutes before any window of the day closes, and when it does, whatever operation is looked at. */
export function useWindowAlarms(on: boolean, items: readonly QueueItem[]): void {
  const now = useNow(1_000);
  const closings = withWindow(items)
    .map((item) => Date.parse(item.windowClosesAt))
    .join(' ');
  const moments = useMemo(
    () =>
      closings
        .split(' ')
        .filter(Boolean)
        .map(Number)
        .flatMap((closes) => [
          { at: closes - 10 * MINUTE_MS, times: 1 },
          { at: closes - 3 * MINUTE_MS, times: 2 },
          { at: closes, times: 4 },
        ]),
    [closings],
  );
  useAlarmAt(on, 'windows', moments, now);
}
