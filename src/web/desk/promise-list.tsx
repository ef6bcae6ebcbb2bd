import type { PageOf, PromiseOutlook } from '../../api/replies.ts';
import { dayAndTime, duration } from '../time/format.ts';
import { words } from '../words.ts';

/** Pickups promised, most endangered first, each with how sure it is. */
export function PromiseList({
  promises,
  zone,
  onChoose,
}: {
  promises: PageOf<PromiseOutlook> | null;
  zone: string;
  onChoose: (jobId: string) => void;
}) {
  const items = promises?.items ?? [];
  return (
    <section class="panel" aria-labelledby="promises">
      <h2 id="promises">{words.promises.title}</h2>
      {items.length === 0 ? <p class="quiet">{promises ? words.promises.none : words.loading}</p> : null}
      <ul class="plain">
        {items.map((item) => (
          <li key={item.jobId}>
            <div>
              <strong>{item.car}</strong>{' '}
              <span class={`mark ${item.atRisk ? 'risk' : ''}`}>
                {item.atRisk ? `▲ ${words.promises.risk}` : words.promises.safe}
              </span>
            </div>
            <div>
              {words.promises.pickup} {dayAndTime(zone, item.promisedPickupAt)} · {item.customer}
            </div>
            <div class="quiet">
              {words.promises.ready} {dayAndTime(zone, item.plannedReadyAt)} ·{' '}
              {item.slackMinutes < 0
                ? words.promises.late(duration(-item.slackMinutes))
                : words.promises.slack(duration(item.slackMinutes))}{' '}
              · {words.promises.chance(item.probabilityPercent)}
            </div>
            <button type="button" class="no-print" onClick={() => onChoose(item.jobId)}>
              {words.job.title}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
