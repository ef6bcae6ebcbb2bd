import type { PlannedOperation } from '../../api/replies.ts';
import { useNow } from '../parts/use-now.ts';
import { duration, minutesBetween } from '../time/format.ts';
import { floorWords } from '../words/floor.ts';

const EVERY_MS = 15_000;

/** How long work under way has taken, breaks left out, of the time it was planned to take: a bar, and the same in words. */
export function Elapsed({ planned }: { planned: PlannedOperation }) {
  const now = useNow(EVERY_MS);
  if (planned.state !== 'underWay') return null;
  const until = (limit: number) =>
    planned.pieces.reduce(
      (sum, { from, to }) => sum + Math.max(0, minutesBetween(from, Math.min(Date.parse(to), limit))),
      0,
    );
  const done = until(now);
  const whole = until(Number.POSITIVE_INFINITY);
  return (
    <div class="elapsed">
      <span class="elapsedbar" aria-hidden="true">
        <span style={{ width: `${Math.min(100, (100 * done) / Math.max(1, whole))}%` }} />
      </span>
      <span>{floorWords.elapsed(duration(done), duration(whole))}</span>
    </div>
  );
}
