import type { OperationBreakdown, PageOf } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { duration } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { jobWords } from '../words/job.ts';
import { words } from '../words.ts';

/** Why it takes so long: each operation with the lines its minutes add up from, longest first. */
export function Breakdown({ shopId, jobId }: { shopId: string; jobId: string }) {
  const [reading] = useReading<PageOf<OperationBreakdown>>(`/v1/shops/${shopId}/jobs/${jobId}/breakdown`);
  if (reading.state === 'failed') return <ProblemNote error={reading.error} />;
  if (reading.value === null) return <p class="quiet">{words.loading}</p>;
  const certain = reading.value.items.filter((each) => !each.conditional || each.plannedMinutes !== null);
  const items = [...certain].sort((a, b) => b.minutes - a.minutes);
  const whole = items.reduce((sum, each) => sum + each.minutes, 0);
  const longest = Math.max(1, ...items.map((each) => each.minutes));
  return (
    <>
      <p>{jobWords.whole(duration(whole), items.length)}</p>
      <ul class="lines">
        {items.map((each) => (
          <li key={each.operation}>
            <strong>{each.label}</strong>
            <span>{duration(each.minutes)}</span>
            <span class="length" aria-hidden="true" style={{ width: `${(100 * each.minutes) / longest}%` }} />
            <ul>
              {each.lines.map((line) => (
                <li key={line.label}>
                  <span>{line.label}</span>
                  <span>{duration(line.minutes)}</span>
                </li>
              ))}
            </ul>
          </li>
        ))}
      </ul>
    </>
  );
}
