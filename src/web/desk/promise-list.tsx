import type { PromiseOutlook } from '../../api/replies.ts';
import { Meter } from '../parts/meter.tsx';
import { dayAndTime } from '../time/format.ts';
import { words } from '../words.ts';
import { whyAtRisk } from './ledge.tsx';

interface PromiseListProps {
  readonly promises: readonly PromiseOutlook[] | null;
  readonly asked: number;
  readonly zone: string;
  readonly onChoose: (jobId: string) => void;
}

/** Pickups promised, by day, each with how sure it is and why it is in danger. */
export function PromiseList({ promises, asked, zone, onChoose }: PromiseListProps) {
  const items = [...(promises ?? [])].sort((a, b) => Date.parse(a.promisedPickupAt) - Date.parse(b.promisedPickupAt));
  return (
    <section class="panel" aria-labelledby="promises">
      <h2 id="promises">{words.promises.title}</h2>
      {items.length === 0 ? <p class="quiet">{promises ? words.promises.none : words.loading}</p> : null}
      <ul class="pickups">
        {items.map((item) => (
          <li key={item.jobId}>
            <button type="button" onClick={() => onChoose(item.jobId)}>
              <strong>{dayAndTime(zone, item.promisedPickupAt)}</strong>
              <span class={`mark ${item.atRisk ? 'risk' : 'safe'}`}>
                {item.atRisk ? `▲ ${words.promises.risk}` : `✓ ${words.promises.safe}`}
              </span>
              <span>{item.car}</span>
              <Meter percent={item.probabilityPercent} asked={asked} />
              {item.atRisk ? <span class="quiet">{whyAtRisk(item, asked, zone)}</span> : null}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
